// SPDX-License-Identifier: MIT
// What the first short run learns: where the light is and how wide, of light whose law is known.
#include "tally/pilot.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "counting.h"

using namespace dishwright;
using testing::Ends;

namespace {

constexpr double golden_angle = 2.399963229728653;  // π (3 − √5): turns that never repeat

/// n even places of a disc about (x, y).
Ends disc_of_light(double radius, double x, double y, int n = 4000, double z = 0) {
  Ends ends;
  for (int k = 0; k < n; ++k) {
    const double r = radius * std::sqrt((k + 0.5) / n);
    ends.add(x + r * std::cos(golden_angle * k), y + r * std::sin(golden_angle * k), z);
  }
  return ends;
}

TargetScale learned(const TargetShape& shape, const Ends& landed, const Ends& crossed = {}, int face = 0) {
  const Scene scene = testing::scene_of({shape});
  const SurfaceList list = make_surfaces(scene);
  Pilot pilot(scene, list);
  landed.land(pilot, testing::surface_of(list, 0, face));
  crossed.cross(pilot, 0);
  const std::vector<TargetScale> scales = pilot.scales();
  REQUIRE(scales.size() == 1);
  return scales[0];
}

// Spirals of 4000 places: their moments lie within 1/√4000 · 1/50 of the disc's, their quantiles within 1/4000.
constexpr double spiral = 1e-3;

}  // namespace

TEST_CASE("pilot, disk: centre and half widths of an even disc of light") {
  const Ends light = disc_of_light(0.05, 0.03, -0.02);
  const TargetScale aim = learned(DiskTarget{1}, light, light);
  CHECK(std::abs(aim.centre_x - 0.03) <= spiral * 0.05);
  CHECK(std::abs(aim.centre_y + 0.02) <= spiral * 0.05);
  CHECK(aim.r50 == testing::approx(0.05 * std::sqrt(0.5)).epsilon(2 * spiral));
  CHECK(aim.r90 == testing::approx(0.05 * std::sqrt(0.9)).epsilon(2 * spiral));
  CHECK(aim.scale == aim.r90);
  REQUIRE(aim.window.any);
  CHECK(aim.window.disc == testing::approx(2 * aim.r50 / 10));
}

TEST_CASE("pilot, disk: weights count, and light of no weight does not") {
  // Three quarters of the weight at x = 0.01, one quarter at 0.05: the centre is the weighted mean.
  Ends light;
  for (int k = 0; k < 40; ++k) light.add(0.01, 0, 0, 0.75), light.add(0.05, 0, 0, 0.25), light.add(0.4, 0.4, 0, 0);
  const TargetScale aim = learned(DiskTarget{1}, light, light);
  CHECK(aim.centre_x == testing::approx(0.02));
  CHECK(aim.centre_y == 0);
  CHECK(aim.r50 == testing::approx(0.01));
  CHECK(aim.r90 == testing::approx(0.03));
}

TEST_CASE("pilot, disk: a path that comes along the plane does not move the centre") {
  Ends light = disc_of_light(0.05, 0.03, 0);
  light.add(1e6, 0);
  const TargetScale aim = learned(DiskTarget{1}, light, light);
  CHECK(std::abs(aim.centre_x - 0.03) <= spiral * 0.05);
  // One within ten times the width of nine tenths counts: 0.05 · √0.9 · 9 away, 1/4001 of the weight.
  Ends near = disc_of_light(0.05, 0, 0);
  near.add(0.4, 0);
  CHECK(std::abs(learned(DiskTarget{1}, near, near).centre_x - 0.4 / 4001) <= spiral * 0.05);
}

TEST_CASE("pilot, disk: the mirror image of the light has the mirror image of its centre, strays left out alike") {
  for (const double away : {0.4, 0.6, 0.8}) {
    CAPTURE(away);
    Ends right = disc_of_light(0.05, 1, 0), left;
    for (int k = 0; k < 4000; ++k) {
      const double r = 0.05 * std::sqrt((k + 0.5) / 4000);
      left.add(-1 - r * std::cos(golden_angle * k), r * std::sin(golden_angle * k));
    }
    right.add(1 - away, 0), left.add(away - 1, 0);
    CHECK(learned(DiskTarget{1}, {}, left).centre_x == testing::approx(-learned(DiskTarget{1}, {}, right).centre_x));
  }
}

TEST_CASE("pilot, rectangle: a trough's band is measured across only") {
  Ends light;  // even over 0.1 across and 2 along
  for (int k = 0; k < 4000; ++k)
    light.add(0.2 + 0.1 * ((k + 0.5) / 4000 - 0.5), 2 * (std::fmod(k * 0.618033988749895, 1.0) - 0.5));
  const TargetScale aim = learned(RectangleTarget{1, 3}, light, light);
  CHECK(aim.centre_x == testing::approx(0.2).epsilon(spiral));
  CHECK(aim.r50 == testing::approx(0.025).epsilon(2 * spiral));
  CHECK(aim.r90 == testing::approx(0.045).epsilon(2 * spiral));
}

TEST_CASE("pilot, tube: the disc is a tenth of the spread across the axis, however long the line of light") {
  // Even round the lower half of a tube of radius R: the middle of the light is at z = −2R/π; distances from it are even in the
  // angle.
  const double radius = 0.05;
  Ends light;
  std::vector<double> distance;
  for (int k = 0; k < 4000; ++k) {
    const double angle = std::numbers::pi * (k + 0.5) / 4000;
    const double x = radius * std::cos(angle), z = -radius * std::sin(angle);
    light.add(x, 1.8 * (std::fmod(k * 0.618033988749895, 1.0) - 0.5), z);
    distance.push_back(std::hypot(x, z + 2 * radius / std::numbers::pi));
  }
  std::sort(distance.begin(), distance.end());
  const TargetScale aim = learned(TubeTarget{2 * radius, 2}, light);
  REQUIRE(aim.window.any);
  CHECK(aim.window.disc == testing::approx(2 * distance[2000] / 10).epsilon(2 * spiral));
  CHECK(aim.r50 == radius);  // no plane: the target's own size
}

TEST_CASE("pilot: where no light came the target's size stands in, and there is no window") {
  for (const TargetShape& shape : std::vector<TargetShape>{DiskTarget{0.4}, RectangleTarget{0.4, 1}, TubeTarget{0.4, 1},
                                                           BallTarget{0.4}, PotTarget{0.4, 0.2}}) {
    CAPTURE(shape.index());
    const TargetScale aim = learned(shape, {});
    CHECK(aim.r50 == 0.2);
    CHECK(aim.r90 == 0.2);
    CHECK(aim.scale == 0.2);
    CHECK(!aim.window.any);
    CHECK(!aim.window.point);
  }
}

TEST_CASE("pilot: light that misses the disk still tells the widths, but no window") {
  const TargetScale aim = learned(DiskTarget{0.1}, {}, disc_of_light(0.05, 1, 0));
  CHECK(aim.centre_x == testing::approx(1).epsilon(spiral));
  CHECK(!aim.window.any);
}

TEST_CASE("pilot: light in a point has no finite peak, and widths that are not zero") {
  Ends light;
  for (int k = 0; k < 100; ++k) light.add(0.01, 0.02);
  const TargetScale aim = learned(DiskTarget{1}, light, light);
  CHECK(aim.window.point);
  CHECK(!aim.window.any);
  CHECK(aim.r50 == 1e-12);
  CHECK(aim.scale == 1e-9);
}
