// SPDX-License-Identifier: MIT
// Things far from the origin, far from each other, far from their own vertex, very small or very flat keep their light.
#include <Eigen/Geometry>

#include "../trace/reference_tracer.h"
#include "../trace/sample_shapes.h"
#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double beam = 1000;  // [W/m²], the default

/// The whole scene moved, turned about the origin first; the sun turns along.
Scene moved(Scene made, const Vector3& by, double turn) {
  const Matrix3 m = Eigen::AngleAxisd(turn, Vector3::UnitX()).toRotationMatrix();
  for (Reflector& one : made.reflectors) one.pose = {m * one.pose.at + by, m * one.pose.turn};
  for (Target& one : made.targets) one.pose = {m * one.pose.at + by, m * one.pose.turn};
  made.sun.aim_error = turn;
  made.sun.aim_direction = -pi / 2;  // the z axis turned about x leans to −y
  return made;
}

void check_like(const std::string& what, const TraceFigures& near, const TraceFigures& far) {
  CAPTURE(what);
  const double all = near.aperture_power.value;
  check_same("aperture", near.aperture_power, far.aperture_power, 1e-5 * all);
  REQUIRE(near.targets[0].intercept);
  REQUIRE(far.targets[0].intercept);
  check_same("intercept", *near.targets[0].intercept, *far.targets[0].intercept, 1e-5);
  check_same("direct", near.targets[0].direct_power, far.targets[0].direct_power, 1e-5 * all);
  check_same("50 %", *near.targets[0].spot_width_50, *far.targets[0].spot_width_50, 1e-3 * near.targets[0].spot_width_50->value);
  CHECK(ledger(far, "lost in rounding").value == 0);
}

}  // namespace

TEST_CASE("an offset dish keeps its light at any clearance") {
  // A true parabola under a point sun sends all to its focus, however far its vertex is from the mirror: beam × π w²/4.
  for (const double clearance : {-0.2, 0.1, 1.0, 10.0, 50.0, 100.0, 120.0}) {
    CAPTURE(clearance);
    const double f = 0.6096, w = 0.508;
    const Vector3 middle(0, clearance + w / 2, std::pow(clearance + w / 2, 2) / (4 * f));
    const double size = std::max(0.2, 3e-5 * middle.norm());  // well within what is accepted
    const TraceFigures figures =
        traced(scene(point_sun(), mirror(OffsetParaboloid{f, clearance, w, 0}), target(BallTarget{size}, {0, 0, f}), 50'000));
    CHECK(figures.targets[0].intercept->value == testing::approx(1).epsilon(1e-12));
    check_agrees("power", figures.targets[0].power, beam * pi * w * w / 4, figures.replicates - 1, 1e-5);
  }
}

TEST_CASE("scenes far from the origin are like those at it" * doctest::test_suite("slow")) {
  for (const SampleShape& one : sample_shapes()) {
    Scene made = scene(limb_sun(), mirror(one.shape, 2e-3), target(DiskTarget{0.02}, {0.004, 0, 0.6}), 300'000, 3);
    made.targets[0].shades = true;
    made = moved(made, Vector3::Zero(), 0.3);
    const TraceFigures near = traced(made);
    for (const Vector3& by : {Vector3(1000, 0, 0), Vector3(-5000, 6000, 6000)}) {
      Scene far = made;
      far.reflectors[0].pose.at += by, far.targets[0].pose.at += by;
      check_like(one.name, near, traced(far));
    }
  }
}

TEST_CASE("a dish of 1 mm is like one of 1 m") {
  const auto of_size = [](double scale) {
    Scene made = scene(limb_sun(), mirror(SphereBowl{1.3 * scale, 1.2 * scale, 0.1 * scale}, 1e-3),
                       target(DiskTarget{0.05 * scale}, {0, 0, 0.6 * scale}), 300'000, 3);
    made.targets[0].shades = true;
    return traced(made);
  };
  const TraceFigures large = of_size(1), small = of_size(1e-3);
  check_same("intercept", *large.targets[0].intercept, *small.targets[0].intercept, 1e-5);
  CHECK(small.targets[0].power.value == testing::approx(1e-6 * large.targets[0].power.value).epsilon(1e-3));
  CHECK(small.targets[0].spot_width_50->value == testing::approx(1e-3 * large.targets[0].spot_width_50->value).epsilon(2e-3));
}

TEST_CASE("very long focal lengths and very far targets: a quarter of an even sun's image lies within half of its width") {
  // The image of the disc, f · tan α in radius, blurred by the mirror's width; within half of it lies a quarter of the light:
  // what the blur of an edge moves out it moves in, for the light is even there.
  for (const double f : {50.0, 1000.0}) {
    const double width = f * std::tan(sun_angle);
    const TraceFigures dish =
        traced(scene(uniform_sun(), mirror(Paraboloid{f, 1, 0}), target(DiskTarget{width}, {0, 0, f}), 200'000));
    check_agrees("long focus", *dish.targets[0].intercept, 0.25, dish.replicates - 1, 1e-4);
  }
  const double distance = 9000, width = distance * std::tan(sun_angle);
  Scene flat = scene(uniform_sun(), mirror(Flat{1, 1}), target(DiskTarget{width}, {0, 0, distance}), 200'000);
  check_agrees("far target", *traced(flat).targets[0].intercept, 0.25, 31, 1e-4);
}

TEST_CASE("a dish whose second mirror and target stand kilometres from the origin agrees with the reference tracer" *
          doctest::test_suite("slow")) {
  Scene made = scene(limb_sun(), mirror(Paraboloid{1, 1, 0.1}, 1e-3), target(DiskTarget{0.02}, {0, 0, 0.4}), 500'000, 5);
  made.targets[0].pose.turn = Eigen::DiagonalMatrix<double, 3>(1, -1, -1);
  Reflector fold = mirror(Flat{0.36, 0.36});
  fold.name = "fold";
  fold.pose = {Vector3(0, 0, 0.7), Eigen::DiagonalMatrix<double, 3>(1, -1, -1)};
  made.reflectors.push_back(fold);
  const reference::Result plain = reference::trace(made, 400'000, 4242);
  for (const Vector3& by : {Vector3(0, 0, 0), Vector3(3000, -2000, 1000)}) {
    Scene far = made;
    for (Reflector& one : far.reflectors) one.pose.at += by;
    far.targets[0].pose.at += by;
    const TraceFigures figures = traced(far);
    check_same("aperture", figures.aperture_power, plain.aperture_power);
    for (const auto& [name, power] : plain.ledger)
      check_same(name, ledger(figures, name), power, 1e-5 * plain.aperture_power.value);
  }
}
