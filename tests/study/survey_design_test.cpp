// SPDX-License-Identifier: MIT
// Light on surveyed dishes of petals, offset dishes and skins on ribs, held against the traced shape itself; and every repair.
#include <doctest/doctest.h>

#include <algorithm>

#include "approx.h"
#include "effort.h"
#include "scenes.h"
#include "study/survey_light.h"
#include "survey/held_against.h"
#include "survey/synthetic.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double inch = 0.0254, f = 24 * inch, width = 48 * inch;
const std::vector<double> rings = {4 * inch, 8 * inch, 12 * inch, 16 * inch, 20 * inch, 23.5 * inch};

Scene scene_of(const ReflectorShape& shape, double disc, double at = f, std::uint64_t paths = 60'000) {
  return scene(limb_sun(), mirror(shape), target(DiskTarget{disc}, {0, 0, at}), paths, 3);
}

SurveyPoints in_sixteenths(SurveyPoints points, double scatter, unsigned seed) {
  testing::add_noise(points, scatter, seed);
  for (Vector3& point : points.points) point.z() = std::round(point.z() / inch * 16) / 16 * inch;
  points.step = inch / 16;
  return points;
}

/// Flat petals, the first middle line along +x.
double petal_height(double x, double y, int count, double focal) {
  const double part = 2 * pi / count, middle = std::round(std::atan2(y, x) / part) * part;
  return std::pow(x * std::cos(middle) + y * std::sin(middle), 2) / (4 * focal);
}

SurveyPoints petal_readings(int clocks, double focal) {
  return testing::survey_of(testing::ring_places(rings, clocks),
                            [&](double x, double y) { return petal_height(x, y, 12, focal) - 6 * inch; });
}

SurveyPoints bowl_readings(const std::function<double(double, double)>& over) {
  return testing::survey_of(testing::ring_places(rings, 24),
                            [&](double x, double y) { return (x * x + y * y) / (4 * f) - 6 * inch + over(x, y); });
}

const Repair* repair(const SurveyLight& light, const std::string& kind) {
  const auto found = std::find_if(light.repairs.begin(), light.repairs.end(), [&](const Repair& r) { return r.kind == kind; });
  return found == light.repairs.end() ? nullptr : &*found;
}

/// Every repair that is proposed gains light; `kind` is among them.
void check_gains(const SurveyLight& light, const std::string& kind) {
  CAPTURE(kind);
  const Repair* wanted = repair(light, kind);
  REQUIRE(wanted != nullptr);
  CHECK(wanted->share.value > light.shares[0].value + 0.01);
  for (const Repair& one : light.repairs) CHECK(one.share.value > light.shares[0].value);
}

}  // namespace

TEST_CASE("petals of another focal length: the share is that of the petals traced, within its ±" * doctest::test_suite("slow")) {
  // On a disc that the spot of the petals overlaps: a paraboloid of that focal length would catch far more.
  constexpr double disc = 4 * inch, focal = 24.5 * inch;
  const Scene meant = scene_of(Petals{f, width, 12, false, 0}, disc);
  const double truth = traced(scene_of(Petals{focal, width, 12, false, 0}, disc)).targets[0].intercept->value;
  const double bowl = traced(scene_of(Paraboloid{focal, width, 0}, disc)).targets[0].intercept->value;
  CHECK(bowl > truth + 0.1);
  const HeldAgainst held = held_against(meant);
  const auto seeds = static_cast<unsigned>(testing::repeats(16));
  int within_two = 0;
  for (unsigned seed = 1; seed <= seeds; ++seed) {
    const SurveyLight light =
        survey_light(meant, survey_design(in_sixteenths(petal_readings(24, focal), 0.02 * inch, seed), held.meant, false), 2);
    CAPTURE(light.shares[0].value);
    CAPTURE(*light.shares[0].std_error);
    CAPTURE(truth);
    within_two += std::abs(light.shares[0].value - truth) <= 2 * *light.shares[0].std_error + 2e-3 ? 1 : 0;
    CHECK(std::abs(light.shares[0].value - truth) < 0.05);
    // Seams and middles were read: nothing hides along the rings.
    CHECK(light.at_risk[0] < 0.002);
  }
  CHECK(within_two >= seeds * (0.95 - testing::share_allowance(0.95, static_cast<int>(seeds))));
}

TEST_CASE("petals read on their middles alone: their flatness is counted, and what the seams may do hides" *
          doctest::test_suite("slow")) {
  constexpr double disc = 8 * inch;
  const Scene meant = scene_of(Petals{f, width, 12, false, 0}, disc, f, 20'000);
  const double truth = traced(meant).targets[0].intercept->value;
  const SurveyLight light = survey_light(meant, survey_design(petal_readings(12, f), held_against(meant).meant, false), 2);
  CHECK(light.shares[0].value == testing::approx(truth).epsilon(0.01));
  CHECK(truth < 0.9);
  CHECK(light.at_risk[0] > 0.05);
}

TEST_CASE("an offset dish of another focal length: the share is that of the dish traced" * doctest::test_suite("slow")) {
  const OffsetParaboloid shape{f, 2 * inch, 20 * inch, 0}, made{25 * inch, 2 * inch, 20 * inch, 0};
  constexpr double disc = 1.2 * inch;
  const Scene meant = scene_of(shape, disc, f, 30'000);
  const HeldAgainst held = held_against(meant);
  // Points of the made dish, through the same edges in the middle, put into the plane of the meant rim.
  SurveyPoints points = testing::survey_of(testing::grid_places(1.2 * inch, 9.6 * inch), [&](double, double) { return 0; });
  const double lift = 12 * inch * 12 * inch * (1 / (4 * f) - 1 / (100 * inch));
  for (Vector3& p : points.points) {
    const Vector3 own(p.x(), p.y() + 12 * inch, (p.x() * p.x() + std::pow(p.y() + 12 * inch, 2)) / (100 * inch) + lift);
    p = held.meant->to_rim(own);
  }
  const SurveyLight light = survey_light(meant, survey_design(points, held.meant, false), 2);
  // The same shape and tracer, the mirror lifted by `lift`.
  Scene lifted = scene_of(made, disc, f, 30'000);
  lifted.reflectors.front().pose.at.z() += lift;
  const double truth = traced(lifted).targets[0].intercept->value;
  CHECK(truth < 0.97);
  CHECK(light.shares[0].value == testing::approx(truth).epsilon(0.02));
}

TEST_CASE("flaws of the project file are what may go wrong: they are not added to what was measured" *
          doctest::test_suite("slow")) {
  const Scene plain = scene_of(Paraboloid{f, width, 0}, 2 * inch, f, 20'000);
  Scene flawed = plain;
  flawed.reflectors.front().flaws.twist = 0.05;
  const Survey survey = survey_points(bowl_readings([](double, double) { return 0.0; }), ShapeKind::paraboloid, false);
  const double clean = survey_light(plain, survey, 2).shares[0].value, with = survey_light(flawed, survey, 2).shares[0].value;
  CHECK(clean > 0.99);
  CHECK(with == clean);
}

TEST_CASE("every repair that is proposed gains light when it is traced" * doctest::test_suite("slow")) {
  const Scene meant = scene_of(Paraboloid{f, width, 0}, 2.5 * inch, f, 20'000);
  const auto light_of = [&](const SurveyPoints& points) {
    return survey_light(meant, survey_points(points, ShapeKind::paraboloid, false), 2);
  };
  // The target stands 1 in too low for a dish of 25 in: moved, the same dish catches nearly all. Traced here with the true dish.
  SurveyPoints longer = testing::survey_of(testing::ring_places(rings, 24),
                                           [](double x, double y) { return (x * x + y * y) / (100 * inch) - 6 * inch; });
  const SurveyLight moved = light_of(longer);
  check_gains(moved, "move target");
  CHECK(traced(scene_of(Paraboloid{25 * inch, width, 0}, 2.5 * inch, f + repair(moved, "move target")->move.z()))
            .targets[0]
            .intercept->value == testing::approx(repair(moved, "move target")->share.value).epsilon(0.01));
  // A saddle; a twist is one, too.
  check_gains(light_of(bowl_readings([](double x, double y) { return 0.02 * (x * x - y * y); })), "even out");
  check_gains(light_of(bowl_readings([](double x, double y) { return 0.04 * x * y; })), "even out");
  // Two humps; and waves all over.
  check_gains(light_of(bowl_readings([](double x, double y) {
                const double left = 1 - (std::pow(std::abs(x) - 0.35, 2) + y * y) / (0.16 * 0.16);
                return 0.3 * inch * std::pow(std::max(0.0, left), 2);
              })),
              "flatten spots");
  check_gains(light_of(bowl_readings([](double x, double y) {
                return 0.1 * inch * std::cos(2 * pi * x / (18 * inch)) * std::cos(2 * pi * y / (18 * inch));
              })),
              "smooth surface");
  // A true dish needs none.
  for (const Repair& one : light_of(bowl_readings([](double, double) { return 0.0; })).repairs)
    CHECK(one.share.value < 1.0 + 1e-9);
}

TEST_CASE("dents that the hours half meet: the ± alone does not cover, what hides reaches down to them" *
          doctest::test_suite("slow")) {
  // Twelve dents between the hours, whose edges some readings meet: whether the skin follows those few readings or passes them
  // over is a matter of luck, so that the share of what was read comes out near 1.00 or near 0.93, and ± covers in about 3 of 8
  // only
  // (decision 12). The low end, with what hides, must hold the share that readings without error give.
  const auto dented = [](double x, double y) {
    double z = (x * x + y * y) / (4 * f) - 6 * inch;
    for (int k = 0; k < 12; ++k) {
      const double angle = (k + 0.5) * pi / 6, dx = x - 19 * inch * std::cos(angle), dy = y - 19 * inch * std::sin(angle);
      z -= 0.25 * inch * std::pow(std::max(0.0, 1 - (dx * dx + dy * dy) / (6.5 * 6.5 * inch * inch)), 2);
    }
    return z;
  };
  const Scene meant = scene_of(Paraboloid{f, width, 0}, 4 * inch, f, 10'000);
  const SurveyPoints exact = testing::survey_of(testing::ring_places(rings, 12), dented);
  const double as_read = survey_light(meant, survey_points(exact, ShapeKind::paraboloid, false), 2).as_read[0];
  const auto seeds = static_cast<unsigned>(testing::repeats(32));
  for (unsigned seed = 1; seed <= seeds; ++seed) {
    SurveyPoints points = exact;
    testing::add_noise(points, 0.03 * inch, seed);
    const SurveyLight light = survey_light(meant, survey_points(points, ShapeKind::paraboloid, false), 2);
    CHECK(light.at_risk[0] > 0.01);
    CHECK(light.shares[0].value - *light.shares[0].std_error - light.at_risk[0] <= as_read);
  }
}
