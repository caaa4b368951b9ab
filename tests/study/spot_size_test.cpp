// SPDX-License-Identifier: MIT
// Size of the sun's image against rim angle, and of the blur out of focus.
#include "approx.h"
#include "quadrature/quadrature.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

// rms radius in the focal plane (f = 1) of a disc whose rays have variance s² per axis: a ring at rim angle φ lies r = 2/(1 + cos
// φ) away and its image is r s / cos φ long and r s wide. Mean over the aperture between two rim angles, to first order in s.
double image_rms(double s, double from, double to) {
  const auto weight = [](double polar) {
    return std::tan(polar / 2) / std::pow(std::cos(polar / 2), 2);
  };  // ρ dρ, ρ = 2 tan(φ/2)
  const double sum = integral(from, to, 4000, [&](double polar) {
    const double r = 2 / (1 + std::cos(polar));
    return weight(polar) * r * r * (1 + 1 / std::pow(std::cos(polar), 2));
  });
  return s * std::sqrt(sum / integral(from, to, 4000, weight));
}

TraceFigures focal_spot(const Sun& shine, const Paraboloid& dish, double plane = 1) {
  return traced(scene(shine, mirror(dish), target(DiskTarget{1.5}, {0, 0, plane}), 400'000, 13));
}

}  // namespace

TEST_CASE("image of the sun grows with the rim angle as r and r/cos φ" * doctest::test_suite("slow")) {
  // σ per axis: uniform θs/2; limb law 2.197810 mrad at 4.65 mrad (closed forms).
  for (const double rim : {5.0, 30.0, 45.0, 60.0}) {
    CAPTURE(rim);
    Paraboloid ring = dish_of(degrees(rim));
    ring.hole_width = 0.99 * ring.width;
    const double inner = 2 * std::atan(ring.hole_width / 4);
    // Next order: (2 θs tan φ)² relative, 2.6e-4 at 60°; twice that is allowed.
    const double allowed = 1e-4 + 2 * std::pow(2 * sun_angle * std::tan(degrees(rim)), 2);
    const TraceFigures thin = focal_spot(uniform_sun(), ring);
    const double expected = image_rms(sun_angle / 2, inner, degrees(rim));
    check_agrees("ring", *thin.targets[0].spot_rms_radius, expected, thin.replicates - 1, allowed * expected);
    const TraceFigures whole = focal_spot(limb_sun(), dish_of(degrees(rim)));
    const double whole_expected = image_rms(2.197810e-3, 0, degrees(rim));
    check_agrees("whole", *whole.targets[0].spot_rms_radius, whole_expected, whole.replicates - 1, allowed * whole_expected);
  }
}

TEST_CASE("image at the vertex: 2 tan θs wide, evenly filled under a uniform sun") {
  // f/D = 100, so that all images are the vertex image: share within radius q f θs is q²; band share is a circle's segment.
  const Paraboloid tiny{1, 0.01, 0};
  const TraceFigures figures = focal_spot(uniform_sun(), tiny);
  const double width = 2 * std::tan(sun_angle);  // 0.00930007, closed form
  const int freedom = figures.replicates - 1;
  check_agrees("50 %", *figures.targets[0].spot_width_50, width * std::sqrt(0.5), freedom, 1e-4 * width);
  check_agrees("90 %", *figures.targets[0].spot_width_90, width * std::sqrt(0.9), freedom, 1e-4 * width);
  const auto band = [](double share) {
    return root_of(0.0, 1.0, [&](double t) { return 2 / pi * (std::asin(t) + t * std::sqrt(1 - t * t)) - share; });
  };
  const TraceFigures trough =
      traced(scene(uniform_sun(), mirror(Trough{1, 0.01, 0.3}), target(RectangleTarget{0.05, 0.5}, {0, 0, 1}), 400'000, 3));
  check_agrees("band 50 %", *trough.targets[0].spot_width_50, width * band(0.5), freedom, 1e-4 * width);
  check_agrees("band 90 %", *trough.targets[0].spot_width_90, width * band(0.9), freedom, 1e-4 * width);
}

TEST_CASE("out of focus by Δ: blur radius Δ · tan φ at the rim" * doctest::test_suite("slow")) {
  // Point sun. Light from rim angle φ lands Δ tan φ from the axis; the aperture within φ is (tan(φ/2)/tan(rim/2))² of it.
  // Table: 10 mm out, 45° and 60°: 10.000 and 17.320508 mm.
  for (const auto& [rim, radius] : {std::pair{45.0, 10.0e-3}, std::pair{60.0, 17.320508e-3}}) {
    for (const double shift : {0.01, -0.01}) {
      CAPTURE(rim);
      CAPTURE(shift);
      const auto share_width = [rim = rim](double share) {
        return 2 * 0.01 * std::tan(2 * std::atan(std::sqrt(share) * std::tan(degrees(rim) / 2)));
      };
      const Paraboloid dish = dish_of(degrees(rim));
      const TraceFigures wide = focal_spot(point_sun(), dish, 1 + shift);
      const int freedom = wide.replicates - 1;
      check_agrees("50 %", *wide.targets[0].spot_width_50, share_width(0.5), freedom, 2e-5 * radius);
      check_agrees("90 %", *wide.targets[0].spot_width_90, share_width(0.9), freedom, 2e-5 * radius);
      const auto caught = [&](double width) {
        return traced(scene(point_sun(), mirror(dish), target(DiskTarget{width}, {0, 0, 1 + shift}), 200'000, 17)).targets[0];
      };
      CHECK(caught(2 * radius * 1.0002).intercept->value == testing::approx(1).epsilon(1e-9));
      CHECK(caught(2 * radius * 0.998).intercept->value < 1 - 1e-4);
      check_agrees("0.6", *caught(share_width(0.6)).intercept, 0.6, freedom, 2e-5);
    }
  }
}

TEST_CASE(
    "spot sizes of a pot are those of all light on the plane of its base, as for a disk there, by rays and without chance") {
  // A small pot out of focus: much of the light passes its base or falls on its side.
  const auto of = [](TargetShape shape) {
    Scene made = scene(limb_sun(), mirror(dish_of(degrees(50)), 4e-3), target(std::move(shape), {0.003, 0, 0.97}), 200'000, 5);
    made.targets[0].shades = false;
    return made;
  };
  const TraceFigures pot = traced(of(PotTarget{0.03, 0.02})), disk = traced(of(DiskTarget{0.03}));
  CHECK(pot.targets[0].spot_width_50->value == testing::approx(disk.targets[0].spot_width_50->value).epsilon(1e-4));
  CHECK(pot.targets[0].spot_width_90->value == testing::approx(disk.targets[0].spot_width_90->value).epsilon(1e-4));
  CHECK((*pot.targets[0].plane_centroid)[0] == testing::approx((*disk.targets[0].plane_centroid)[0]).epsilon(1e-4));
  CHECK_FALSE(pot.targets[0].spot_rms_radius.has_value());
  const TraceFigures sum = quadrature_figures(of(PotTarget{0.03, 0.02}), {});
  check_same("50 %", *pot.targets[0].spot_width_50, *sum.targets[0].spot_width_50);
  check_same("90 %", *pot.targets[0].spot_width_90, *sum.targets[0].spot_width_90);
}
