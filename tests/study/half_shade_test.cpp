// SPDX-License-Identifier: MIT
// Light of the whole disc: the half-shade of one mirror on another, mirrors that only a part of the disc sees, faces that the
// disc only grazes.
#include <Eigen/Geometry>

#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double beam = 1000;  // [W/m²], the default

Matrix3 about_x(double angle) { return Eigen::AngleAxisd(angle, Vector3::UnitX()).toRotationMatrix(); }

Reflector flat(const std::string& name, double width, double length, const Vector3& at,
               const Matrix3& turn = Matrix3::Identity()) {
  Reflector made = mirror(Flat{width, length});
  made.name = name;
  made.pose = {at, turn};
  return made;
}

/// Mean distance of the disc's points from a line through its centre, seen from here [rad]: 4 α/(3 π) for even radiance.
constexpr double mean_lean = 4 * sun_angle / (3 * pi);

}  // namespace

TEST_CASE("a mirror before another: all light that meets it first is its own, whatever part of the disc it comes from") {
  // Nothing stands before the fold's back: beam × area, exactly. What it takes from the dish under it is what would have met the
  // dish: its shadow lies whole on the dish, away from rim and hole, so the dish keeps beam × (its outline − the fold's).
  Scene made = scene(uniform_sun(), mirror(Paraboloid{1, 1, 0}), target(DiskTarget{0.008}, {0, 0, 0.4}), 1'000'000, 155);
  made.reflectors.push_back(flat("fold", 0.36, 0.36, {0, 0, 0.7}, about_x(pi)));
  made.reflectors[0].reflectance = 0;
  for (const Sun& shine : {point_sun(), uniform_sun(), limb_sun(), sun(DiscProfile::aureole)}) {
    made.sun = shine;
    const TraceFigures figures = traced(made);
    check_agrees("back of fold", ledger(figures, "back of fold"), 129.6, figures.replicates - 1);
    CHECK(ledger(figures, "back of fold").std_error.value_or(0) < 0.1);
    check_agrees("aperture", figures.aperture_power, beam * pi / 4, figures.replicates - 1);
    check_agrees("dish", ledger(figures, "absorbed by dish"), beam * pi / 4 - 129.6, figures.replicates - 1);
  }
}

TEST_CASE("half-shade that spills over an edge is not lost") {
  // A plate 0.5 m over another, 0.6 m aside, as long: along its ends the shadow leans out over the other's ends by 0.5 m × the
  // lean of the light, to one side or the other, and so much light slips in under the plate: 0.4 m × 0.5 m × mean |lean|, 0.39 W.
  Scene made = scene(uniform_sun(), flat("dish", 1, 1, Vector3::Zero()), target(BallTarget{0.02}, {0, 0, 5}), 4'000'000, 57);
  made.reflectors.push_back(flat("upper", 1, 1, {0.6, 0, 0.5}));
  made.reflectors[0].reflectance = made.reflectors[1].reflectance = 0;
  const TraceFigures figures = traced(made);
  const double slips = beam * 0.4 * 0.5 * mean_lean;
  CHECK(ledger(figures, "absorbed by dish").std_error.value_or(1) < slips / 5);
  check_agrees("upper", ledger(figures, "absorbed by upper"), 1000, figures.replicates - 1);
  check_agrees("lower", ledger(figures, "absorbed by dish"), 600 + slips, figures.replicates - 1);
  check_agrees("aperture", figures.aperture_power, 1600 + slips, figures.replicates - 1);
}

TEST_CASE("a mirror on edge toward the sun's centre is seen by half of the disc on either side") {
  // E on each side: ∫ L |n · ω| dω over half of the disc = beam × 2 α/(3 π), half of the mean |lean|.
  Scene made = scene(uniform_sun(), flat("dish", 1, 0.6, Vector3::Zero(), about_x(pi / 2)), target(BallTarget{0.02}, {0, 5, 0}),
                     1'000'000, 59);
  made.reflectors[0].reflectance = 0;
  const TraceFigures figures = traced(made);
  const double side = beam * 0.6 * mean_lean / 2;
  check_agrees("front", ledger(figures, "absorbed by dish"), side, figures.replicates - 1, 1e-5 * side);
  check_agrees("back", ledger(figures, "back of dish"), side, figures.replicates - 1, 1e-5 * side);
  CHECK(ledger(figures, "absorbed by dish").std_error.value_or(1) < 0.01 * side);
}

TEST_CASE("direct light on faces that the disc only grazes: beam × area × 2 α/(3 π)") {
  // A wall under a sun at the zenith sees half of the disc: ∫ L cos = beam/(π α²) · (α³/3) · 2. All round an upright pot or tube
  // it is the same.
  const Matrix3 upright = about_x(pi / 2);
  const double wall = beam * mean_lean / 2;
  const auto check = [&](const std::string& what, const TargetShape& shape, const Matrix3& turn, double expected) {
    for (const Vector3& at : {Vector3(0, 0, 0.5), Vector3(30, -20, 8)}) {
      Scene made = scene(uniform_sun(), mirror(Paraboloid{0.5, 1, 0}), target(shape, at), 20'000, 63);
      made.targets[0].shades = true;
      made.targets[0].pose.turn = turn;
      const TraceFigures figures = traced(made);
      check_agrees(what, figures.targets[0].direct_power, expected, 15, 1e-4 * expected);
      CHECK(figures.targets[0].direct_power.std_error.value_or(1) <= 0.01 * expected);
    }
  };
  check("pot", PotTarget{0.2, 0.2}, Matrix3::Identity(), wall * pi * 0.04);
  check("low pot", PotTarget{0.2, 0.002}, Matrix3::Identity(), wall * pi * 0.0004);
  check("upright tube", TubeTarget{0.1, 0.3}, upright, wall * pi * 0.03);
  check("upright disk", DiskTarget{0.2}, upright, wall * pi * 0.01);
  check("upright rectangle", RectangleTarget{0.2, 0.3}, upright, wall * 0.06);
  check("ball", BallTarget{0.2}, Matrix3::Identity(), beam * pi * 0.01);
}
