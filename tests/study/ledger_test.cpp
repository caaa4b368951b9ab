// SPDX-License-Identifier: MIT
// Where the light went: the ledger of any scene adds up, and its lines agree with the figures.
#include "approx.h"
#include "random_scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

bool figures_make_sense(const Scene& made, const TraceFigures& figures) {
  double sum = 0;
  const double all = figures.aperture_power.value;
  for (const LedgerLine& line : figures.ledger) {
    RC_ASSERT(std::isfinite(line.power.value));
    RC_ASSERT(line.power.value >= -1e-12 * all);
    RC_ASSERT(line.power.value <= (1 + 1e-12) * all);
    sum += line.power.value;
  }
  RC_ASSERT(std::abs(sum - all) <= 1e-9 * all);
  double best = 0;  // reflectance
  for (const Reflector& mirror : made.reflectors) best = std::max(best, mirror.reflectance);
  for (const TargetFigures& one : figures.targets) {
    RC_ASSERT(one.power.value <= best * all * (1 + 1e-7));  // a path's power is a whole number of 2^-26
    RC_ASSERT(made.lamp || one.direct_power.value <= made.sun.beam * one.area);
    if (one.share_curve) {
      double before = 0;
      for (const double share : one.share_curve->share) {
        RC_ASSERT(share >= before);
        RC_ASSERT(share <= 1 + 1e-12);
        before = share;
      }
    }
    RC_ASSERT(std::abs(one.power.value - ledger(figures, one.name).value) <= 1e-9 * all);
    RC_ASSERT(one.direct_power.value >= 0);
    RC_ASSERT(one.total_power.has_value() == figures.caught_share.has_value());
    if (one.total_power) {
      RC_ASSERT(one.direct_power.value == ledger(figures, "straight to " + one.name).value);
      RC_ASSERT(std::abs(one.total_power->value - one.power.value - one.direct_power.value) <= 1e-9 * all);
      RC_ASSERT(!one.peak_concentration);
    }
    if (one.evenness) RC_ASSERT(one.evenness->value >= 0 && one.evenness->value <= 2);
    RC_ASSERT(one.power.std_error.value_or(0) >= 0);
    if (one.intercept) RC_ASSERT(one.intercept->value >= 0 && one.intercept->value <= 1 + 1e-12);
    if (one.mean_irradiance) RC_ASSERT(std::abs(one.mean_irradiance->value * one.area - one.power.value) <= 1e-9 * all);
    if (one.spot_width_50 && one.spot_width_90) RC_ASSERT(one.spot_width_50->value <= one.spot_width_90->value);
    for (const MapFace& face : one.map) {
      RC_ASSERT(face.irradiance.size() == static_cast<std::size_t>(face.rows) * static_cast<std::size_t>(face.columns));
      for (const double value : face.irradiance) RC_ASSERT(std::isfinite(value) && value >= 0);
    }
  }
  return true;
}

}  // namespace

TEST_CASE("the ledger of random scenes adds up to the aperture power" * doctest::test_suite("slow")) {
  fix_property_seed();
  CHECK(rc::check("ledger adds up to 1e-9", [] {
    const Scene made = random_scene(30'000);
    return figures_make_sense(made, traced(made));
  }));
}

TEST_CASE("the ledger of random lamps adds up to what the lamp sends out" * doctest::test_suite("slow")) {
  fix_property_seed();
  CHECK(rc::check("lamp ledger adds up to 1e-9", [] {
    Scene made = random_scene(30'000);
    made.lamp = random_lamp();
    const TraceFigures figures = traced(made);
    RC_ASSERT(figures.aperture_power.value == made.lamp->power);
    RC_ASSERT(!figures.aperture_power.std_error);
    RC_ASSERT(figures.aperture_power.unit == (made.lamp->in_lumens ? "lm" : "W"));
    RC_ASSERT(figures.caught_share && figures.caught_share->value >= 0 && figures.caught_share->value <= 1);
    RC_ASSERT(figures.beam == 0);
    return figures_make_sense(made, figures);
  }));
}

TEST_CASE("the map of a target holds the power of that target") {
  // Equal bins over the face's extent; a round face loses the part of its edge bins that lies outside the circle.
  const TraceFigures figures =
      traced(scene(limb_sun(), mirror(dish_of(degrees(45)), 4e-3), target(RectangleTarget{0.2, 0.2}, {0, 0, 1}), 400'000, 5));
  for (const TargetFigures& one : figures.targets) {
    for (const MapFace& face : one.map) {
      const double bin = (face.x_to - face.x_from) / face.columns * (face.y_to - face.y_from) / face.rows;
      double sum = 0;
      for (const double value : face.irradiance) sum += value * bin;
      CHECK(sum == testing::approx(one.power.value).epsilon(1e-6));
    }
  }
}

TEST_CASE("no light, no figures") {
  // The target stands behind the dish.
  const TraceFigures figures =
      traced(scene(limb_sun(), mirror(dish_of(degrees(45))), target(DiskTarget{0.1}, {0, 0, -1}), 50'000, 5));
  const TargetFigures& spot = figures.targets.at(0);
  CHECK(spot.power.value == 0);
  CHECK(!spot.peak_irradiance);
  CHECK(!spot.centroid);
  CHECK(!spot.spot_rms_radius);
  check_agrees("missed", ledger(figures, "missed"), figures.aperture_power.value, figures.replicates - 1);
}
