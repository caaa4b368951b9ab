// SPDX-License-Identifier: MIT
// Quadrature and tracing share the scene and the definitions, nothing else: every figure of a grid of scenes within the joint
// error.
#include "two_methods.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

Scene kettle(double slope, double spread, double aim, DiscProfile disc = DiscProfile::limb_darkened) {
  Scene made = scene(sun(disc), mirror(Paraboloid{0.6096, 1.2192, 0.0508}, slope), target(DiskTarget{0.1524}, {0, 0, 0.6096}),
                     1'000'000, 11);
  made.sun.aim_error = aim, made.sun.aim_direction = 0.5;
  made.reflectors[0].specular_spread = spread, made.reflectors[0].reflectance = 0.86;
  made.targets[0].shades = true;
  return made;
}

}  // namespace

TEST_CASE("two methods: kettle dish over errors of surface and aim" * doctest::test_suite("slow")) {
  for (const double slope : {1e-3, 4e-3, 12e-3, 25e-3}) {
    for (const double aim : {0.0, 0.5, 2.0, 4.0}) {
      check_two_methods("slope " + std::to_string(slope) + " aim " + std::to_string(aim), kettle(slope, 0, degrees(aim)));
    }
  }
}

TEST_CASE("two methods: suns and spreads" * doctest::test_suite("slow")) {
  check_two_methods("perfect", kettle(0, 0, degrees(0.3)));
  check_two_methods("spread", kettle(0, 4e-3, 0));
  check_two_methods("both", kettle(3e-3, 5e-3, degrees(1)));
  check_two_methods("uniform", kettle(2e-3, 0, 0, DiscProfile::uniform));
  Scene glow = kettle(4e-3, 0, degrees(1), DiscProfile::aureole);
  glow.sun.aureole_share = 0.15;
  check_two_methods("aureole", glow);
  Scene point = kettle(5e-3, 0, degrees(1));
  point.sun.half_angle = 0;
  check_two_methods("point", point);
  Scene wide = kettle(4e-3, 0, 0);
  wide.sun.half_angle = 30e-3;
  check_two_methods("wide sun", wide);
}

TEST_CASE("two methods: shapes, places and turns of the target" * doctest::test_suite("slow")) {
  check_two_methods("too far", one(Paraboloid{0.6, 1.2, 0.05}, 6e-3, DiskTarget{0.2}, {0, 0, 0.66}));
  check_two_methods("too near, aside", one(Paraboloid{0.6, 1.2, 0.05}, 6e-3, DiskTarget{0.2}, {0.03, -0.02, 0.56}));
  check_two_methods("rectangle", one(Paraboloid{0.6, 1.0, 0}, 6e-3, RectangleTarget{0.03, 0.2}, {0, 0, 0.6}, degrees(1)));
  check_two_methods("sphere", one(SphereBowl{1.2, 0.9, 0.05}, 5e-3, DiskTarget{0.12}, {0, 0, 0.58}));
  check_two_methods("trough", one(Trough{0.4, 0.9, 1.2}, 5e-3, RectangleTarget{0.06, 1.0}, {0, 0, 0.4}, degrees(1)), 0.1);
  check_two_methods("beyond the edge",
                    one(Paraboloid{0.6, 1.0, 0}, 5e-3, RectangleTarget{0.06, 0.06}, {0, 0, 0.6}, degrees(3.5)));
  check_two_methods("beyond the rim", one(Paraboloid{0.6, 1.0, 0}, 5e-3, DiskTarget{0.06}, {0, 0, 0.6}, degrees(3.5)));
  check_two_methods("small plate", one(Paraboloid{0.6, 1.0, 0}, 4e-2, DiskTarget{5e-3}, {0, 0, 0.6}));
  check_two_methods("arc trough", one(ArcTrough{1, 0.6, 0.8}, 5e-3, RectangleTarget{0.08, 0.9}, {0, 0, 0.48}));
  // Half-shade is 1.5 % of the light here, and the spot is sharp: its ± must say so.
  Scene smooth = one(ArcTrough{1, 0.6, 1.2}, 1e-3, RectangleTarget{0.1, 1.2}, {0, 0, 0.48});
  smooth.trace.paths = 8'000'000;
  check_two_methods("arc trough, smooth", smooth);
  Scene turned = one(Paraboloid{0.6, 1.0, 0.05}, 5e-3, DiskTarget{0.15}, {0, 0, 0.6});
  turned.targets[0].pose.turn = rotation(degrees(20), degrees(-15), 0);
  check_two_methods("turned target", turned);
  Scene tilted = one(Paraboloid{0.6, 1.0, 0.05}, 5e-3, DiskTarget{0.15}, {0, 0, 0});
  tilted.reflectors[0].pose.turn = tilted.targets[0].pose.turn = rotation(degrees(10), degrees(5), 0);
  tilted.reflectors[0].pose.at = Vector3(0.1, 0.2, 0.3);
  tilted.targets[0].pose.at = tilted.reflectors[0].pose.at + tilted.reflectors[0].pose.turn * Vector3(0, 0, 0.6);
  // The axis leans by 11.17°, mostly to −y; the sun stands half a degree beside it.
  tilted.sun.aim_error = degrees(10.7),
  tilted.sun.aim_direction = std::atan2(-std::sin(degrees(10)), std::sin(degrees(5)) * std::cos(degrees(10)));
  check_two_methods("tilted dish", tilted);
}

TEST_CASE("two methods: a flat that sends light to a wall that the sun also shines on" * doctest::test_suite("slow")) {
  Scene made = one(Flat{0.5, 0.7}, 8e-3, RectangleTarget{0.8, 0.8}, {1.5, 0, 2.598});
  made.reflectors[0].pose.turn = rotation(0, degrees(15), 0);
  made.targets[0].pose.turn = rotation(0, degrees(100), 0);
  made.targets[0].shades = false;
  check_two_methods("upright wall", made);
  CHECK(quadrature_figures(made).targets[0].direct_power.value > 50);
  made.targets[0].pose.turn = rotation(0, degrees(40), 0);
  check_two_methods("leaning wall", made);
}

TEST_CASE("two methods: two flats side by side") {
  Scene made = one(Flat{0.3, 0.3}, 6e-3, DiskTarget{0.5}, {0, 0, 3});
  made.reflectors.push_back(made.reflectors[0]);
  made.reflectors[0].pose.at = Vector3(-0.6, 0, 0), made.reflectors[1].pose.at = Vector3(0.6, 0, 0.1);
  made.reflectors[0].pose.turn = rotation(0, std::atan(0.6 / 3) / 2, 0);
  made.reflectors[1].pose.turn = rotation(0, -std::atan(0.6 / 2.9) / 2, 0);
  made.reflectors[1].name = "second", made.reflectors[1].reflectance = 0.7;
  check_two_methods("two flats", made);
}

TEST_CASE("two methods: shadows with corners, beside the hole, across it, at its very edge" * doctest::test_suite("slow")) {
  // A short trough under its bar: half of it sees the bar's end from one side only.
  check_two_methods("short trough", one(Trough{0.3048, 0.9144, 0.2032}, 3e-3, RectangleTarget{0.01905, 0.2032}, {0, 0, 0.3048}));
  check_two_methods("corners over a hole",
                    one(Paraboloid{0.786, 1.221, 0.198}, 10e-3, RectangleTarget{0.331, 0.18}, {0, 0, 0.786}));
  check_two_methods("offset dish",
                    one(OffsetParaboloid{0.688, -0.016, 0.591, 0.039}, 15e-3, DiskTarget{0.289}, {0, 0, 0.731}, degrees(1)));
  // The half-shade of a pot falls into a hole that is nearly as wide as the pot.
  Scene edge = one(Paraboloid{1.306, 1.179, 0.233}, 3e-3, PotTarget{0.24, 0.148}, {0.03, -0.05, 1.306});
  check_two_methods("pot at the edge of a hole", edge);
}
