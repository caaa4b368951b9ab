// SPDX-License-Identifier: MIT
// Every figure of the production tracer against the plain reference tracer, within joint error.
#include <Eigen/Geometry>

#include "../trace/reference_tracer.h"
#include "../trace/sample_shapes.h"
#include "effort.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

void compare(const Scene& made, std::uint64_t plain_paths = 600'000) {
  const TraceFigures figures = traced(made);
  const std::uint64_t paths = testing::full_run() ? plain_paths : plain_paths / 4;
  const reference::Result plain = reference::trace(made, paths, 4242);
  // Lines met by a few paths only have no honest error of their own: 1e-5 of the whole, or three paths.
  const double few = std::max(1e-5, 3.0 / static_cast<double>(paths)) * figures.aperture_power.value;
  REQUIRE(plain.lost <= few);
  check_same("aperture", figures.aperture_power, plain.aperture_power);
  for (const LedgerLine& line : figures.ledger) {
    const auto found = plain.ledger.find(line.where);
    check_same(line.where, line.power, found == plain.ledger.end() ? Estimate{0, 0.0, "W"} : found->second, few);
  }
  if (plain.caught_share) {
    REQUIRE(figures.caught_share);
    check_same("caught", *figures.caught_share, *plain.caught_share);
  }
  for (const auto& [name, power] : plain.ledger) check_same(name, ledger(figures, name), power, few);
  for (std::size_t i = 0; i < plain.targets.size(); ++i) {
    const TargetFigures& one = figures.targets.at(i);
    const reference::TargetResult& other = plain.targets[i];
    CAPTURE(one.name);
    check_same("power", one.power, other.power, few);
    check_same("direct", one.direct_power, other.direct_power, 1e-3 * other.direct_power.value);
    if (other.intercept) {
      REQUIRE(one.intercept);
      check_same("intercept", *one.intercept, *other.intercept);
    }
    if (other.spot_width_50) {
      REQUIRE(one.spot_width_50);
      check_same("50 %", *one.spot_width_50, *other.spot_width_50, 1e-3 * other.spot_width_50->value);
      check_same("90 %", *one.spot_width_90, *other.spot_width_90, 1e-3 * other.spot_width_90->value);
      check_same("rms", *one.spot_rms_radius, *other.spot_rms_radius, 1e-3 * other.spot_rms_radius->value);
      for (std::size_t axis = 0; axis < 2; ++axis) {
        check_same("centroid", (*one.centroid)[axis], (*other.centroid)[axis], 1e-3 * other.spot_rms_radius->value);
      }
    }
  }
}

Scene placed(const Sun& shine, const ReflectorShape& shape, double slope, const TargetShape& goal, const Vector3& at,
             double aim_error = 0) {
  Scene made = scene(shine, mirror(shape, slope), target(goal, at), 1'000'000, 91);
  made.reflectors[0].reflectance = 0.86;
  made.targets[0].shades = true;
  made.sun.aim_error = aim_error;
  made.sun.aim_direction = 0.8;
  return made;
}

}  // namespace

TEST_CASE("single mirrors, every shape with every target" * doctest::test_suite("slow")) {
  compare(placed(limb_sun(), Paraboloid{0.6, 1.2, 0.1}, 4e-3, PotTarget{0.15, 0.13}, {0, 0, 0.58}, degrees(0.5)));
  compare(placed(limb_sun(), Paraboloid{0.6, 1.2, 0}, 0, DiskTarget{0.02}, {0, 0, 0.6}, degrees(3)));
  compare(placed(uniform_sun(), SphereBowl{1.2, 1.2, 0.1}, 2e-3, DiskTarget{0.1}, {0, 0, 0.57}));
  compare(placed(limb_sun(), Trough{0.5, 1.2, 1.5}, 5e-3, TubeTarget{0.04, 1.2}, {0, 0, 0.5}, degrees(1)));
  compare(placed(limb_sun(), ArcTrough{1.1, 1, 1.5}, 1e-3, RectangleTarget{0.06, 1.6}, {0, 0, 0.52}));
  compare(placed(point_sun(), Flat{0.6, 0.6}, 8e-3, BallTarget{0.2}, {0, 0, 0.8}));
}

TEST_CASE("aureole, specular spread, a turned and shifted dish" * doctest::test_suite("slow")) {
  Scene made = placed(sun(DiscProfile::aureole), Paraboloid{0.6, 1.2, 0}, 2e-3, DiskTarget{0.06}, {0, 0, 0.6}, degrees(1));
  made.sun.aureole_share = 0.15;
  made.reflectors[0].specular_spread = 6e-3;
  const Matrix3 turn = Eigen::AngleAxisd(0.4, Vector3(1, 1, 0.3).normalized()).toRotationMatrix();
  const Vector3 shift(2, 3, -1);
  made.reflectors[0].pose = {shift, turn};
  made.targets[0].pose = {turn * made.targets[0].pose.at + shift, turn};
  // The sun follows the dish's axis to about a degree.
  const Vector3 axis = turn.col(2);
  made.sun.aim_error = std::acos(axis.z()) + degrees(1);
  made.sun.aim_direction = std::atan2(axis.y(), axis.x());
  compare(made);
}

TEST_CASE("a bowl so deep that light bounces several times, and its back under a low sun" * doctest::test_suite("slow")) {
  compare(placed(limb_sun(), SphereBowl{0.6, 1.19, 0}, 1e-3, BallTarget{0.2}, {0, 0, 0.4}));
  compare(placed(limb_sun(), Paraboloid{0.25, 1, 0}, 1e-3, BallTarget{0.2}, {0, 0, 0.3}, degrees(60)));
}

TEST_CASE("two mirrors, two targets, one hiding the other's light") {
  Scene made = placed(limb_sun(), Paraboloid{0.6, 1.2, 0}, 3e-3, DiskTarget{0.08}, {0, 0, 0.6});
  Reflector wing = mirror(Flat{0.8, 0.8}, 3e-3);
  wing.name = "wing";
  wing.pose.at = Vector3(0.9, 0, 0.4);
  wing.pose.turn = Eigen::AngleAxisd(-0.6, Vector3::UnitY()).toRotationMatrix();
  made.reflectors.push_back(wing);
  Target pot = target(PotTarget{0.2, 0.2}, {-0.2, 0.1, 0.75});
  pot.name = "pot";
  pot.shades = true;
  made.targets.push_back(pot);
  compare(made);
}

TEST_CASE("lamps of every shape at a dish, a bowl and a trough" * doctest::test_suite("slow")) {
  const auto lit = [](const LampShape& lamp, const ReflectorShape& shape, const TargetShape& screen, const Vector3& at) {
    Scene made = placed(limb_sun(), shape, 4e-3, screen, at);
    made.lamp = Lamp{lamp, {Vector3(0.01, 0, 0.58), Eigen::AngleAxisd(0.2, Vector3::UnitX()).toRotationMatrix()}, 60, false};
    Target pane = target(DiskTarget{0.3}, {0.1, 0.1, 0.35});
    pane.name = "pane";  // lets through what is on its way in
    made.targets.push_back(pane);
    return made;
  };
  compare(lit(BallLamp{0.06}, Paraboloid{0.6, 1.2, 0.1}, DiskTarget{1.5}, {0, 0, 3}));
  compare(lit(DiskLamp{0.1}, SphereBowl{1.2, 1.2, 0}, RectangleTarget{1.5, 1}, {0, 0, 3}));
  compare(lit(LineLamp{0.3}, Trough{0.6, 1.2, 1.5}, PotTarget{0.5, 0.4}, {0, 0, 1.2}));
  Scene deep = lit(BallLamp{0.06}, SphereBowl{0.6, 1.19, 0}, BallTarget{0.3}, {0, 0.2, 0.3});
  compare(deep);
}

TEST_CASE("further shapes, leaning sun, slope error" * doctest::test_suite("slow")) {
  for (const SampleShape& one : sample_shapes()) {
    CAPTURE(one.name);
    compare(placed(limb_sun(), one.shape, 3e-3, DiskTarget{0.12}, {0.01, 0, 0.6}, degrees(1.5)), 200'000);
  }
}

TEST_CASE("further shapes, turned and shifted, low sun" * doctest::test_suite("slow")) {
  const Matrix3 turn = Eigen::AngleAxisd(0.4, Vector3(1, 1, 0.3).normalized()).toRotationMatrix();
  for (const SampleShape& one : sample_shapes()) {
    CAPTURE(one.name);
    Scene made = placed(limb_sun(), one.shape, 2e-3, BallTarget{0.2}, {0, 0, 0.6}, degrees(55));
    made.reflectors[0].pose = {Vector3(2, 3, -1), turn};
    made.targets[0].pose = {turn * made.targets[0].pose.at + Vector3(2, 3, -1), turn};
    compare(made, 200'000);
  }
}

TEST_CASE("dish with a second mirror: hyperboloid, ellipsoid" * doctest::test_suite("slow")) {
  for (const TwoMirrors& pair : {convex_second(0.6), concave_second(0.6)}) {
    Scene made = placed(limb_sun(), Paraboloid{0.6, 1.2, 0.12}, 1e-3, DiskTarget{0.05}, pair.far_focus, degrees(0.2));
    made.targets[0].pose.turn = Eigen::DiagonalMatrix<double, 3>(1, -1, -1);
    Reflector second = mirror(pair.second, 1e-3);
    second.name = "second";
    second.pose = pair.pose;
    made.reflectors.push_back(second);
    compare(made);
  }
}
