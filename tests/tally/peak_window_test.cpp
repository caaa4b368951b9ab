// SPDX-License-Identifier: MIT
// Where the brightest place is looked for: the window's place, size and axes, and what of it is face.
#include "tally/peak_window.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"

using namespace dishwright;

namespace {

constexpr double golden_angle = 2.399963229728653;  // π (3 − √5)
constexpr double pi = std::numbers::pi;
constexpr int cells = PeakWindow::cells;

/// A third of the light in a small disc about a place of a plane, the rest in a large one.
std::vector<LitPlace> bump_on_plane(double x, double y) {
  std::vector<LitPlace> light;
  for (int k = 0; k < 6000; ++k) {
    const bool bump = k % 3 == 0;
    const double r = (bump ? 0.002 : 0.2) * std::sqrt((k + 0.5) / 6000);
    light.push_back(
        {Vector3((bump ? x : 0) + r * std::cos(golden_angle * k), (bump ? y : 0) + r * std::sin(golden_angle * k), 0), 1});
  }
  return light;
}

PeakCounts counts_of(const TargetShape& shape, const PeakWindow& window, double disc) {
  static const std::vector<std::int64_t> none;
  return peak_counts(shape, window, disc, none, {1});
}

double face_area(const PeakCounts& counts) {
  double sum = 0;
  for (const double share : counts.on_face) sum += share;
  return sum * 4 * counts.half_x * counts.half_y / (cells * cells);
}

/// Where a wish for the middle of a disc is moved to, in the window's coordinates.
std::pair<double, double> kept(const PeakCounts& counts, double x, double y) {
  counts.keep_on_face(x, y);
  return {x, y};
}

}  // namespace

TEST_CASE("window: about the fullest place, with the disc and the reach that its size asks for") {
  const std::vector<LitPlace> light = bump_on_plane(0.05, -0.03);
  const PeakWindow window = peak_window(DiskTarget{1}, light, 0.02);
  REQUIRE(window.any);
  CHECK(!window.point);
  CHECK(window.disc == testing::approx(0.002));
  // The box that finds it is a third of the half width, at least 2 discs: all of the bump lies within it.
  CHECK(std::abs(window.middle.x() + window.start_across - 0.05) < 0.002);
  CHECK(std::abs(window.middle.y() + window.start_up + 0.03) < 0.002);
  // At least 6 discs, and at least 2.1 median distances of the light along the axis.
  CHECK(window.half_across >= 6 * 0.002);
  CHECK(window.half_across < 2.1 * 0.2);
  CHECK(window.radius == 0);
}

TEST_CASE("window: where the light is a small spot the reach is six discs, or 2.1 median distances if that is more") {
  // Places even over a square of side 0.02: the median distance along an axis is 0.005.
  std::vector<LitPlace> light;
  for (int k = 0; k < 100; ++k) {
    for (int j = 0; j < 100; ++j)
      light.push_back({Vector3(0.02 * ((k + 0.5) / 100 - 0.5), 0.02 * ((j + 0.5) / 100 - 0.5), 0), 1});
  }
  CHECK(peak_window(DiskTarget{1}, light, 0.01).half_across ==
        testing::approx(2.1 * 0.005).epsilon(0.03));  // 0.1 mm is one place
  CHECK(peak_window(DiskTarget{1}, light, 0.02).half_across == testing::approx(6 * 0.002));
}

TEST_CASE("window: light in a point, and no light") {
  CHECK(peak_window(DiskTarget{1}, {{Vector3::Zero(), 1}}, 0).point);
  CHECK(!peak_window(DiskTarget{1}, {{Vector3::Zero(), 1}}, 0).any);
  CHECK(!peak_window(DiskTarget{1}, {}, 0.1).any);
  CHECK(!peak_window(DiskTarget{1}, {}, 0).point);
}

TEST_CASE("window at the edge of a face: it ends there, and the pilot's place is told from its middle") {
  std::vector<LitPlace> light;
  for (int k = 0; k < 100; ++k) light.push_back({Vector3(0.499, 0.01, 0), 1});
  const PeakWindow window = peak_window(RectangleTarget{1, 2}, light, 0.05);  // disc 5 mm, reach 30 mm
  CHECK(window.middle.x() + window.half_across == testing::approx(0.5));
  CHECK(window.middle.x() - window.half_across == testing::approx(0.469));
  CHECK(window.middle.x() + window.start_across == testing::approx(0.499));
  CHECK(window.middle.y() == testing::approx(0.01));
  CHECK(window.half_up == testing::approx(0.03));
}

TEST_CASE("window on a narrow face: no disc is wider than the face") {
  std::vector<LitPlace> light;
  for (int k = 0; k < 1000; ++k) light.push_back({Vector3(0, 3 * (k / 1000.0 - 0.5), 0), 1});
  CHECK(peak_window(RectangleTarget{0.01, 4}, light, 0.5).disc == 0.01);
  CHECK(widest_disc(RectangleTarget{0.01, 4}, {}) == 0.01);
  CHECK(widest_disc(RectangleTarget{4, 0.01}, {}) == 0.01);
  CHECK(widest_disc(TubeTarget{0.1, 0.03}, {}) == 0.03);
  CHECK(widest_disc(DiskTarget{0.3}, {}) == 0.3);
  PeakWindow side;
  side.radius = 0.1;
  CHECK(widest_disc(PotTarget{0.2, 0.05}, side) == 0.05);
  CHECK(widest_disc(PotTarget{0.2, 0.05}, {}) == 0.2);  // the base
}

TEST_CASE("window on bodies: it stands on the surface, `up` along the axis, `across` round it") {
  const std::vector<LitPlace> below(100, {Vector3(0.03, 0.4, -0.04), 1});  // on a tube of radius 0.05
  const PeakWindow tube = peak_window(TubeTarget{0.1, 1}, below, 0.02);
  REQUIRE(tube.any);
  CHECK(tube.radius == 0.05);
  const Vector3 place = tube.middle + tube.start_across * tube.across + tube.start_up * tube.up;
  CHECK((place - Vector3(0.03, 0.4, -0.04)).norm() <= 1e-12);
  CHECK(tube.up == Vector3::UnitY());
  CHECK(std::abs(tube.across.dot(Vector3(0.6, 0, -0.8))) <= 1e-12);
  CHECK(tube.across.norm() == testing::approx(1));

  const PeakWindow ball = peak_window(BallTarget{0.1}, {{Vector3(0, 0.03, 0.04), 1}}, 0.02);
  CHECK(ball.middle.norm() == testing::approx(0.05));
  CHECK(std::abs(ball.up.dot(ball.middle)) <= 1e-12);
  CHECK(std::abs(ball.across.dot(ball.middle)) <= 1e-12);
  CHECK(std::abs(ball.across.dot(ball.up)) <= 1e-12);

  const PeakWindow side = peak_window(PotTarget{0.2, 0.1}, std::vector<LitPlace>(9, {Vector3(0.1, 0, 0.02), 1}), 0.03);
  CHECK(side.radius == 0.1);
  CHECK(side.up == Vector3::UnitZ());
  CHECK(side.middle.z() - side.half_up == testing::approx(0.002));  // 6 discs of 3 mm below 0.02
  const PeakWindow base = peak_window(PotTarget{0.2, 0.1}, std::vector<LitPlace>(9, {Vector3(0.05, 0, 0), 1}), 0.03);
  CHECK(base.radius == 0);
  CHECK(base.up == Vector3::UnitY());
}

TEST_CASE("a pot: the fuller of base and side is chosen, though their light meets at the rim") {
  std::vector<LitPlace> light;
  for (int k = 0; k < 100; ++k) light.push_back({Vector3(0.1, 0, 1e-3), 1}), light.push_back({Vector3(0.0999, 0, 0), 0.9});
  CHECK(peak_window(PotTarget{0.2, 0.1}, light, 0.05).radius == 0.1);
  for (LitPlace& one : light) one.weight = one.place.z() > 0 ? 0.9 : 1;
  CHECK(peak_window(PotTarget{0.2, 0.1}, light, 0.05).radius == 0);
}

TEST_CASE("places near a target are moved onto its surface, the shortest way") {
  CHECK((snap(TubeTarget{2, 5}, Vector3(0.6, 1.5, 0.6)) - Vector3(std::sqrt(0.5), 1.5, std::sqrt(0.5))).norm() <= 1e-12);
  CHECK((snap(BallTarget{2}, Vector3(0, 3, 4)) - Vector3(0, 0.6, 0.8)).norm() <= 1e-12);
  CHECK(snap(BallTarget{2}, Vector3::Zero()) == Vector3::Zero());  // no way is the shortest
  CHECK(snap(DiskTarget{2}, Vector3(0.1, 0.2, 0.3)) == Vector3(0.1, 0.2, 0));
  CHECK(snap(PotTarget{2, 1}, Vector3(0.5, 0, 0.1)) == Vector3(0.5, 0, 0));
  CHECK((snap(PotTarget{2, 1}, Vector3(0.95, 0, 0.1)) - Vector3(1, 0, 0.1)).norm() <= 1e-12);
}

TEST_CASE("cells of a window: the area of the face in it") {
  PeakWindow window;
  window.half_across = window.half_up = 0.64;  // cells of 20 mm
  // Whole disk of diameter 1. Cells on the rim are told to 1/64: their 200 errors of at most 1/16 add like chance.
  CHECK(face_area(counts_of(DiskTarget{1}, window, 0.1)) == testing::approx(pi / 4).epsilon(1e-3));
  CHECK(face_area(counts_of(RectangleTarget{1, 0.9}, window, 0.1)) ==
        testing::approx(0.9).epsilon(1e-6));  // borders on cells' lines and middles
  window.middle = Vector3(0.5, 0, 0);         // half of the window beyond the edge
  CHECK(face_area(counts_of(RectangleTarget{1, 2}, window, 0.1)) == testing::approx(0.64 * 1.28));
}

TEST_CASE("cells of a window on a tube: each stands for the surface above it") {
  PeakWindow window;
  window.radius = 0.5, window.half_across = 0.4, window.half_up = 0.2;
  const PeakCounts counts = counts_of(TubeTarget{1, 2}, window, 0.1);
  // cos = √(1 − (x/R)²); Σ dx / cos over the window is the arc 2 R asin(0.8). Midpoints of cells 0.0125 wide: 1e-4.
  double arc = 0;
  for (int column = 0; column < cells; ++column) {
    const double x = 0.8 / cells * (column + 0.5) - 0.4, facing = counts.facing[static_cast<std::size_t>(column)];
    CHECK(facing == testing::approx(std::sqrt(1 - x * x / 0.25)));
    arc += 0.8 / cells / facing;
  }
  CHECK(arc == testing::approx(2 * 0.5 * std::asin(0.8)).epsilon(3e-4));
  CHECK(counts.facing[0] == counts.facing[static_cast<std::size_t>(cells) * (cells - 1)]);  // the same along the tube
}

TEST_CASE("middles of discs are kept on the face: the nearest place that has room") {
  PeakWindow window;
  window.middle = Vector3(0.3, 0, 0), window.half_across = window.half_up = 0.2;
  const PeakCounts disk = counts_of(DiskTarget{1}, window, 0.1);  // middles within 0.45 of the centre
  CHECK(kept(disk, 0.1, 0.1) == std::pair(0.1, 0.1));
  const auto [x, y] = kept(disk, 0.3, 0.8);  // (0.6, 0.8) from the centre
  CHECK(x == testing::approx(0.27 - 0.3));
  CHECK(y == testing::approx(0.36));
  const PeakCounts wall = counts_of(RectangleTarget{1, 0.5}, window, 0.1);
  CHECK(kept(wall, 0.19, -0.3).first == testing::approx(0.15));
  CHECK(kept(wall, 0.19, -0.3).second == testing::approx(-0.2));
  const PeakCounts narrow = counts_of(RectangleTarget{0.05, 0.5}, window, 0.1);  // no room across: the middle line
  CHECK(kept(narrow, 0.1, 0).first == testing::approx(-0.3));
  PeakWindow side;
  side.radius = 0.1, side.middle = Vector3(0.1, 0, 0.04), side.half_across = side.half_up = 0.05;
  const PeakCounts pot = counts_of(PotTarget{0.2, 0.1}, side, 0.02);  // heights 0.01 … 0.09
  CHECK(kept(pot, 0.02, -0.04) == std::pair(0.02, 0.01 - 0.04));
  CHECK(kept(pot, 0.02, 0.06).second == testing::approx(0.05));
}
