// SPDX-License-Identifier: MIT
// Every further shape ray by ray against the reference tracer: same surface, same place to 1 µm, same normal and direction.
#include "compare_paths.h"
#include "sample_shapes.h"

using namespace dishwright;
using namespace dishwright::test;

TEST_CASE("further shapes: sun on the axis and beside it, before a ball and a pot") {
  for (const SampleShape& one : sample_shapes()) {
    CAPTURE(one.name);
    int landings = 0, shaded = 0;
    for (const double aim_error : {0.0, 0.05}) {
      for (const TargetShape& goal : {TargetShape(BallTarget{0.2}), TargetShape(PotTarget{0.25, 0.15})}) {
        const Count count =
            compare_paths(scene({mirror("dish", one.shape)}, {target("spot", goal, {0, 0, 0.58})}, aim_error, 1), 100);
        CHECK(count.paths > 40);
        landings += count.landings, shaded += count.shaded;
      }
    }
    CHECK(landings > 40);
    CHECK(shaded > 2);
  }
}

TEST_CASE("further shapes: turned, shifted, with slope error, under a leaning sun") {
  for (const SampleShape& one : sample_shapes()) {
    CAPTURE(one.name);
    Reflector dish = mirror("dish", one.shape, 4e-3);
    dish.pose = {Vector3(1.5, -2, 0.7), about(Vector3(1, -0.6, 2).normalized(), 0.5)};
    dish.reflectance = 0.9;
    Target spot = target("spot", BallTarget{0.25}, dish.pose.turn * Vector3(0, 0, 0.6) + dish.pose.at);
    const Vector3 axis = dish.pose.turn.col(2);
    const Count count = compare_paths(scene({dish}, {spot}, std::acos(axis.z()) + 0.02, std::atan2(axis.y(), axis.x())), 200);
    CHECK(count.paths > 50);
    CHECK(count.landings > 25);
  }
}

TEST_CASE("further shapes: their backs, and light that meets the mirror twice") {
  int backs = 0, second = 0;
  for (const SampleShape& one : sample_shapes()) {
    CAPTURE(one.name);
    const Count low =
        compare_paths(scene({mirror("dish", one.shape)}, {target("spot", BallTarget{0.05}, {0, 0, 2})}, 1.3, 0.5), 200);
    backs += low.backs;
    second += low.reflections > low.paths - low.backs;
  }
  CHECK(backs > 100);
  Reflector turned = mirror("dish", Hyperboloid{0.5, 1.5, 1, 0.1});
  const Target spot = target("spot", BallTarget{0.05}, {0, 0, 2});
  const Count behind = compare_paths(scene({turned}, {spot}), 100);
  CHECK(behind.backs > 80);  // its bright side faces away from the sun
  turned.pose.turn = about(Vector3::UnitX(), std::acos(-1.0));
  CHECK(compare_paths(scene({turned}, {spot}, 0.1, 2), 100).reflections > 50);
}

TEST_CASE("dish with a second mirror: hyperboloid before its focus, ellipsoid behind it") {
  for (const TwoMirrors& pair : {convex_second(0.6), concave_second(0.6)}) {
    Reflector second = mirror("second", pair.second, 1e-3);
    second.pose = pair.pose;
    const Target spot = target("spot", DiskTarget{0.1}, pair.far_focus, false);
    Target receiver = spot;
    receiver.pose.turn = about(Vector3::UnitX(), std::acos(-1.0));  // its front looks up at the second mirror
    for (const double aim_error : {0.0, 0.01}) {
      const Count count =
          compare_paths(scene({mirror("dish", Paraboloid{0.6, 1.2, 0.1}, 1e-3), second}, {receiver}, aim_error, 1), 250);
      CHECK(count.paths > 80);
      CHECK(count.landings > 50);
      CHECK(count.backs > 2);  // the second mirror's shadow
      CHECK(count.reflections > 100);
    }
  }
}

TEST_CASE("light that creeps along a bowl in many flat bounces does not meet its own starting place") {
  Reflector dish = mirror("dish", Catenary{1.2, 0.17, 0.1}, 8e-3);
  dish.pose = {Vector3(1.5, -2, 0.7), about(Vector3(1, -0.6, 2).normalized(), 0.5)};
  const Target spot = target("spot", BallTarget{0.2}, dish.pose.turn * Vector3(0, 0, 0.58) + dish.pose.at);
  const Count count = compare_paths(scene({dish}, {spot}, 0.9, 0.5), 1200);
  CHECK(count.reflections > count.paths * 6 / 5);
}

TEST_CASE("light that leaves a quadric at any small angle does not meet its own start") {
  // Very rough deep mirrors under a low sun: some bounces leave so flat that single precision sees them meet their start again,
  // most often on a cone.
  const ReflectorShape deep[] = {Paraboloid{0.25, 1, 0}, SphereBowl{0.6, 1.19, 0}, Trough{0.25, 1, 1},
                                 ArcTrough{0.55, 1, 1},  Ellipsoid{0.3, 1.2, 0.9}, OffsetParaboloid{0.3, 0.1, 0.8, 0},
                                 Cone{0.3, 1, 0.1}};
  for (const ReflectorShape& shape : deep) {
    CAPTURE(shape.index());
    Reflector dish = mirror("dish", shape, 40e-3);
    dish.pose = {Vector3(1.5, -2, 0.7), about(Vector3(1, -0.6, 2).normalized(), 0.5)};
    Scene made = scene({dish}, {target("spot", BallTarget{0.02}, dish.pose.turn * Vector3(0, 0, 0.58) + dish.pose.at)}, 0.9, 0.5);
    made.trace.paths = 1'000'000;
    const bool cone = std::holds_alternative<Cone>(shape);
    CHECK(compare_paths(made, cone ? 6000 : 1500).reflections > 800);
  }
}
