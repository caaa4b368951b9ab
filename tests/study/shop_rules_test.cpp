// SPDX-License-Identifier: MIT
// Rules of thumb for a dish 36 in wide with its focus at 18 in. The figures were first worked out by hand-made programs that
// share nothing with this one; two of them were corrected (docs/decisions/0013). Balls stand for pots; nothing shades; the sun is
// limb-darkened. Expected: the figure as it is told, within half of its last digit.
#include <Eigen/Geometry>

#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double inch = 0.0254;

TraceFigures figures_of(const ReflectorShape& shape, const TargetShape& goal, double height, double slope = 0, double aim = 0) {
  Scene made = scene(limb_sun(), mirror(shape, slope), target(goal, {0, 0, height * inch}), 100'000, 5);
  made.sun.aim_error = aim;
  return traced(made);
}

double caught(const ReflectorShape& shape, const TargetShape& goal, double height, double slope = 0, double aim = 0) {
  return figures_of(shape, goal, height, slope, aim).targets[0].intercept->value;
}

void check_told(double value, double told, double half_digit) {
  INFO(value, " told as ", told);
  CHECK(std::abs(value - told) <= half_digit);
}

const Paraboloid dish{18 * inch, 36 * inch, 0};
BallTarget ball(double width) { return {width * inch}; }
DiskTarget disk(double width) { return {width * inch}; }

}  // namespace

TEST_CASE("rough dish, 25 mrad: share on balls and disks") {
  check_told(caught(dish, ball(6), 18, 25e-3), 0.99, 0.006);
  check_told(caught(dish, ball(3), 18, 25e-3), 0.69, 0.006);
  check_told(caught(dish, disk(6), 18, 25e-3), 0.95, 0.006);
  check_told(caught(dish, disk(3), 18, 25e-3), 0.59, 0.006);
}

TEST_CASE("circular arc, f/D 0.33: little at R/2, nearly all lower") {
  const double half_radius = 0.33 * 36;
  const SphereBowl arc{2 * half_radius * inch, 36 * inch, 0};
  check_told(caught(arc, ball(6), half_radius), 0.65, 0.006);
  check_told(caught(arc, disk(6), half_radius), 0.43, 0.006);
  CHECK(caught(arc, ball(6), 0.7 * half_radius) > 0.995);
}

TEST_CASE("petals and a 6 in ball" * doctest::test_suite("slow")) {
  for (const auto& one : {std::pair{8, 0.67}, {12, 0.87}, {16, 0.98}, {18, 1.0}, {20, 1.0}}) {
    const int count = one.first;
    CAPTURE(count);
    const Petals petals{18 * inch, 36 * inch, count, false, 0};
    check_told(caught(petals, ball(6), 18), one.second, 0.006);
    // 90 % of the light: 0.7 of the width of a petal at the rim.
    const double rim_width = 36 * inch * std::sin(pi / count);
    check_told(figures_of(petals, disk(6), 18).targets[0].spot_width_90->value / rim_width, 0.7, 0.05);
  }
  CHECK(caught(Petals{18 * inch, 36 * inch, 8, true, 0}, ball(6), 18) < 0.6);
}

TEST_CASE("square tiles: spot 90 % wide; a target of 1.3 tiles and the sun's image holds it" * doctest::test_suite("slow")) {
  for (const auto& one : {std::pair{0.5, 0.7}, {1.0, 1.3}, {2.0, 2.5}, {3.0, 3.8}, {4.0, 5.1}}) {
    const double tile = one.first;
    CAPTURE(tile);
    Facets facets;
    facets.focal_length = 18 * inch;
    facets.width = 36 * inch;
    facets.tile = tile * inch;
    facets.gap = 1e-5;
    const double width = figures_of(facets, disk(6), 18).targets[0].spot_width_90->value / inch;
    check_told(width, one.second, 0.05);
    CHECK(width < 1.3 * tile + 18 * 2 * sun_angle);
  }
}

TEST_CASE("a ball too high or too low by inches") {
  for (const double way : {1.0, -1.0}) {
    check_told(caught(dish, ball(3), 18 + way), 1, 0.006);
    check_told(caught(dish, ball(3), 18 + 2 * way), 0.82, 0.006);
    check_told(caught(dish, ball(6), 18 + 3 * way), 1, 0.006);
    check_told(caught(dish, ball(6), 18 + 4 * way), 0.82, 0.006);
  }
}

TEST_CASE("aim error: a deep dish forgives more with a ball, less with a flat disk") {
  const Paraboloid deep{9 * inch, 36 * inch, 0}, shallow{36 * inch, 36 * inch, 0};
  CHECK(caught(deep, ball(6), 9, 0, degrees(9)) > 0.99);
  CHECK(caught(deep, ball(6), 9, 0, degrees(10.5)) < 0.9);
  CHECK(caught(shallow, ball(6), 36, 0, degrees(4)) > 0.99);
  CHECK(caught(shallow, ball(6), 36, 0, degrees(5)) < 0.1);
  CHECK(caught(deep, disk(6), 9, 0, degrees(4)) < 0.7);
  CHECK(caught(shallow, disk(6), 36, 0, degrees(4)) > 0.93);
}
