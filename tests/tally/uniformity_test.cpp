// SPDX-License-Identifier: MIT
// How even a lamp's beam is: 25 parts of equal area, and the darkest against the mean.
#include "tally/uniformity.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "approx.h"
#include "counting.h"

using namespace dishwright;

namespace {

UniformityCircle unit_circle() {
  UniformityCircle circle;
  circle.any = true, circle.x = 0.2, circle.y = -0.1, circle.radius = 0.5;
  return circle;
}
int part_at(double r, double turns) {
  const double angle = 2 * std::numbers::pi * turns;
  return unit_circle().part(0.2 + 0.5 * r * std::cos(angle), -0.1 + 0.5 * r * std::sin(angle));
}

}  // namespace

TEST_CASE("the half-light circle: 25 parts of equal area") {
  // A grid of 1000 × 1000 cells: a part holds π/4/25 of them. Cells cut by a border are wrong by half the square root of their
  // number at most, about √150: 4e-4 of a part's 31 416.
  constexpr int side = 1000;
  std::array<int, UniformityCircle::parts> cells{};
  const UniformityCircle circle = unit_circle();
  for (int i = 0; i < side; ++i) {
    for (int j = 0; j < side; ++j) {
      const int part = circle.part(0.2 + 0.5 * (2 * (i + 0.5) / side - 1), -0.1 + 0.5 * (2 * (j + 0.5) / side - 1));
      if (part >= 0) ++cells.at(static_cast<std::size_t>(part));
    }
  }
  for (const int count : cells) CHECK(count == testing::approx(std::numbers::pi / 4 / 25 * side * side).epsilon(2e-3));
}

TEST_CASE("the half-light circle: rings of 1, 3, 5, 7, 9 pieces, the first from +x on, counter-clockwise") {
  CHECK(part_at(0, 0) == 0);
  CHECK(part_at(0.19, 0.7) == 0);
  const std::array<int, 5> first = {0, 1, 4, 9, 16};  // the sum of the odd numbers before
  for (int ring = 1; ring < 5; ++ring) {
    CAPTURE(ring);
    const double r = (ring + 0.5) / 5;
    const int pieces = 2 * ring + 1, start = first.at(static_cast<std::size_t>(ring));
    CHECK(part_at(r, 1e-9) == start);
    CHECK(part_at(r, -1e-9) == start + pieces - 1);
    CHECK(part_at(r, 1.0 / pieces - 1e-9) == start);
    CHECK(part_at(r, 1.0 / pieces + 1e-9) == start + 1);
  }
  CHECK(part_at(1 - 1e-9, 0.99) == 24);
  CHECK(part_at(1 + 1e-9, 0.3) == -1);
  CHECK(unit_circle().part(NAN, 0) == -1);
}

TEST_CASE(
    "minimum over mean: 1 where all parts are alike, the tenth where one has a tenth, 0 where it is dark or no light came") {
  std::array<double, UniformityCircle::parts> parts{};
  CHECK(uniformity(parts, 3) == 0);
  parts.fill(7);
  CHECK(uniformity(parts, 3) == testing::approx(1));
  parts[3] = 0.7;
  // 25 · 0.7 / (24 · 7 + 0.7)
  CHECK(uniformity(parts, 3) == testing::approx(17.5 / 168.7));
  // A part that was the darkest on other replicates may not be so here.
  CHECK(uniformity(parts, 4) == testing::approx(175 / 168.7));
  parts[3] = 0;
  CHECK(uniformity(parts, 3) == 0);
}

TEST_CASE("only a lamp's circle that lies whole on a disk or a rectangle is judged") {
  const auto circle = [](const TargetShape& shape, double x, double y, double radius, bool lamp = true) {
    const Scene scene = testing::scene_of({shape}, lamp);
    TargetScale aim = testing::scale_of(radius, 2 * radius);
    aim.centre_x = x, aim.centre_y = y;
    aim.window.any = true;
    return uniformity_circle(scene, scene.targets[0], aim).any;
  };
  CHECK(circle(DiskTarget{2}, 0.3, 0.4, 0.49));   // its middle stands 0.5 out: 0.99 of a radius of 1
  CHECK(!circle(DiskTarget{2}, 0.3, 0.4, 0.51));  // 1.01
  CHECK(circle(RectangleTarget{2, 4}, 0.5, 1.5, 0.499));
  CHECK(!circle(RectangleTarget{2, 4}, -0.5, 0, 0.501));
  CHECK(!circle(RectangleTarget{2, 4}, 0, -1.6, 0.41));
  CHECK(!circle(BallTarget{2}, 0, 0, 0.1));
  CHECK(!circle(DiskTarget{2}, 0, 0, 0.1, false));  // in the sun
  const Scene scene = testing::scene_of({DiskTarget{2}}, true);
  CHECK(!uniformity_circle(scene, scene.targets[0], testing::scale_of(0.1, 0.2)).any);  // no light
}
