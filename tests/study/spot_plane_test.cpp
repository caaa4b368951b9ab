// SPDX-License-Identifier: MIT
// Spot widths and peak where light takes long ways to the target's plane, and with hardly any paths.
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

/// A dish whose cone of light a flat mirror folds back down onto a disk that looks up; the hole is larger than the flat mirror's
/// shadow.
Scene folded(std::uint64_t paths) {
  Reflector dish = mirror(Paraboloid{1, 1, 0.52});
  Reflector fold = mirror(Flat{0.36, 0.36});
  fold.name = "fold";
  fold.pose.at = Vector3(0, 0, 0.7);
  fold.pose.turn = Eigen::AngleAxisd(pi, Vector3::UnitX()).toRotationMatrix();
  Target low = target(DiskTarget{0.05}, {0, 0, 0.4});
  low.pose.turn = fold.pose.turn;
  Scene made = scene(uniform_sun(), dish, low, paths);
  made.reflectors.push_back(fold);
  return made;
}

}  // namespace

TEST_CASE("folded dish: the widths and the peak of the same dish unfolded") {
  // The flat mirror at 0.7 m shows the focus, 1 m, at 0.4 m.
  const TraceFigures fold = traced(folded(400'000));
  const TraceFigures open = traced(scene(uniform_sun(), mirror(Paraboloid{1, 1, 0.52}), target(DiskTarget{0.05}, {0, 0, 1})));
  const TargetFigures &a = fold.targets[0], &b = open.targets[0];
  check_same("power", a.power, b.power);
  REQUIRE((a.spot_width_50 && a.spot_width_90 && a.peak_irradiance));
  check_same("spot_width_50", *a.spot_width_50, *b.spot_width_50);
  check_same("spot_width_90", *a.spot_width_90, *b.spot_width_90);
  check_same("peak", *a.peak_irradiance, *b.peak_irradiance);
}

TEST_CASE("deep trough: the widths do not hang on a stray path" * doctest::test_suite("slow")) {
  // Light from near the level of the focus comes along the plane of the target and lands anywhere.
  Scene made = scene(limb_sun(), mirror(Trough{0.2, 0.9, 1}, 25e-3), target(RectangleTarget{0.1, 1}, {0, 0, 0.2}), 100'000);
  made.trace.seed = 3;
  const Estimate first = *traced(made).targets[0].spot_width_50;
  for (const std::uint64_t seed : {4, 5, 6, 7, 8}) {
    made.trace.seed = seed;
    check_same("spot_width_50", *traced(made).targets[0].spot_width_50, first);
  }
}

TEST_CASE("target narrower than the disc of the peak: the peak is not below the mean") {
  // A trough's light runs 2 m along; half of it lies within about 1 m, a tenth of which is five times the target.
  const TraceFigures figures =
      traced(scene(limb_sun(), mirror(Trough{0.4, 1.2, 2}, 3e-3), target(DiskTarget{0.02}, {0, 0, 0.4}), 400'000));
  const TargetFigures& spot = figures.targets[0];
  REQUIRE(spot.peak_irradiance);
  check_same("peak", *spot.peak_irradiance, *spot.mean_irradiance);
}

TEST_CASE("a handful of paths: finite numbers or none") {
  for (std::uint64_t paths = 2; paths < 130; paths += 1 + paths / 8) {
    for (const Scene& made :
         {scene(limb_sun(), mirror(Paraboloid{1, 1, 0}, 4e-3), target(DiskTarget{0.05}, {0, 0, 1}), paths),
          scene(limb_sun(), mirror(Trough{0.4, 1.2, 2}, 3e-3), target(RectangleTarget{0.05, 2}, {0, 0, 0.4}), paths),
          scene(limb_sun(), mirror(Paraboloid{1, 1, 0}, 4e-3), target(BallTarget{0.1}, {0, 0, 1}), paths)}) {
      const TargetFigures spot = traced(made).targets[0];
      INFO(paths, " paths on a ", spot.shape);
      for (const auto& figure : {spot.peak_irradiance, spot.peak_concentration, spot.mean_irradiance, spot.spot_width_50,
                                 spot.spot_width_90, spot.spot_rms_radius, spot.intercept}) {
        if (!figure) continue;
        CHECK(std::isfinite(figure->value));
        CHECK(figure->value >= 0);
        CHECK(std::isfinite(figure->std_error.value_or(0)));
      }
      if (spot.peak_irradiance) {
        CHECK(spot.peak_irradiance->value <
              1.25e3 * 46'250);  // W/m²: beam / sin² of the sun's half angle, limb-darkened: the most that optics allow
      } else {
        CHECK(spot.no_peak == NoPeak::few_paths);
      }
    }
  }
}
