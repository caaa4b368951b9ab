// SPDX-License-Identifier: MIT
// What is drawn where: colours at known places, marks told apart without colour.
#include "picture/map_panel.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace dishwright;

namespace {

constexpr Box room{20, 20, 464, 478};  // the map is 400 × 400 pixels: room less axes and heading

/// 40 × 40 bins over 4 × 4 units about (1, 2): value = 1 + column + 40 row, dark end 1600.
MapPanel stairs() {
  MapPanel panel;
  panel.heading = "Front";
  panel.x_label = "x [in]", panel.y_label = "y [in]";
  panel.columns = panel.rows = 40;
  for (int i = 0; i < 1600; ++i) panel.values.push_back(1 + i);
  panel.face = panel.view = {-1, 3, 0, 4};
  return panel;
}

MapPanel even(double value) {
  MapPanel panel = stairs();
  panel.values.assign(1600, value);
  return panel;
}

bool same(const Colour& a, const Colour& b) { return a.red == b.red && a.green == b.green && a.blue == b.blue; }

/// Share of a circle's points that are dark ink.
double dark_share(const Pixels& pixels, double x, double y, double radius) {
  int dark = 0;
  for (int i = 0; i < 720; ++i) {
    const double angle = i * std::numbers::pi / 360;
    dark +=
        lightness(pixels.at(static_cast<int>(x + radius * std::cos(angle)), static_cast<int>(y - radius * std::sin(angle)))) < 40
            ? 1
            : 0;
  }
  return dark / 720.0;
}

}  // namespace

TEST_CASE("each bin has its colour at its place: x to the right, y up") {
  Canvas canvas(600, 600);
  const MapPanel panel = stairs();
  const Box map = draw_panel(canvas, panel, room, 1600);
  CHECK(map.width == 400);
  CHECK(map.height == 400);
  const Pixels pixels = canvas.pixels();
  for (const auto& [column, row] : {std::pair{2, 3}, {37, 3}, {20, 20}, {2, 37}, {37, 37}}) {
    const double x = map.x + (column + 0.5) * 10, y = map.bottom() - (row + 0.5) * 10;
    // The pixel's centre lies half a pixel off the bin's centre: a thousandth of the scale at most.
    const Colour seen = pixels.at(static_cast<int>(x), static_cast<int>(y)),
                 wanted = ink_colour((1 + column + 40.0 * row) / 1600);
    CHECK(std::fabs(lightness(seen) - lightness(wanted)) < 0.6);
  }
}

TEST_CASE("between bin centres linear; outside the face nothing; round faces end at their circle") {
  MapPanel panel = stairs();
  const auto bin = [](double column, double row) { return 1 + column + 40 * row; };
  CHECK(map_value(panel, -1 + 0.1 * 10.5, 0.1 * 7.5) == testing::approx(bin(10, 7)));
  CHECK(map_value(panel, -1 + 0.1 * 11, 0.1 * 8) == testing::approx(bin(10.5, 7.5)));
  CHECK(map_value(panel, -1, 0) == testing::approx(bin(0, 0)));  // beyond the first centre: its own value
  CHECK(map_value(panel, -1.01, 1) < 0);
  CHECK(map_value(panel, 1, 4.01) < 0);
  CHECK(map_value(panel, std::nan(""), 1) < 0);
  panel.round = true;
  CHECK(map_value(panel, 1, 0.01) >= 0);
  CHECK(map_value(panel, -0.9, 0.1) < 0);
  // Bins outside the circle do not darken its edge.
  MapPanel full = even(5);
  full.round = true;
  for (int i = 0; i < 1600; ++i) {
    const double u = (i % 40 + 0.5) / 20 - 1, v = (i / 40 + 0.5) / 20 - 1;
    if (u * u + v * v > 1) full.values[static_cast<std::size_t>(i)] = 0;
  }
  for (int i = 0; i < 360; ++i) {
    const double angle = i * std::numbers::pi / 180;
    CHECK(map_value(full, 1 + 1.99 * std::cos(angle), 2 + 1.99 * std::sin(angle)) == testing::approx(5));
  }
}

TEST_CASE("a view keeps its true shape and shows its part only") {
  MapPanel panel = stairs();
  panel.view = {1, 2, 1, 3};  // twice as high as wide
  Canvas canvas(600, 600);
  const Box map = draw_panel(canvas, panel, room, 1600);
  CHECK(map.height == 400);
  CHECK(map.width == 200);
  const Colour seen = canvas.pixels().at(static_cast<int>(map.x + 100), static_cast<int>(map.y + 200));  // (1.5, 2)
  CHECK(std::fabs(lightness(seen) - lightness(ink_colour((1 + 24.5 + 40 * 19.5) / 1600))) < 0.6);
}

TEST_CASE("circles stand at their place; solid and dashed differ without colour") {
  MapPanel panel = even(1);
  panel.circles = {{1, 2, 1, "50 %", MarkLine::solid}, {1, 2, 3, "90 %", MarkLine::dashed}};
  Canvas canvas(600, 600);
  const Box map = draw_panel(canvas, panel, room, 1000);  // nearly white below the lines
  const Pixels pixels = canvas.pixels();
  const double x = map.x + 200, y = map.y + 200;
  const double solid = dark_share(pixels, x, y, 50), dashed = dark_share(pixels, x, y, 150);
  CHECK(solid > 0.9);
  CHECK(dashed > 0.4);
  CHECK(dashed < 0.8);
  CHECK(dark_share(pixels, x, y, 100) < 0.1);
  // Both stand out where the map is at its darkest: their halo is white.
  Canvas dark(600, 600);
  MapPanel black = even(1000);
  black.circles = panel.circles;
  draw_panel(dark, black, room, 1000);
  const Pixels seen = dark.pixels();
  double lightest = 0;
  for (int r = 48; r < 56; ++r) lightest = std::max(lightest, lightness(seen.at(static_cast<int>(x) + r, static_cast<int>(y))));
  CHECK(lightest > 80);
}

TEST_CASE("bands are upright lines at both edges") {
  MapPanel panel = even(1);
  panel.bands = {{0.5, 1.5, "50 %", MarkLine::solid}, {0, 2, "90 %", MarkLine::dashed}};
  Canvas canvas(600, 600);
  const Box map = draw_panel(canvas, panel, room, 1000);
  const Pixels pixels = canvas.pixels();
  const auto dark_rows = [&](double value) {
    int dark = 0;
    for (int y = 100; y < 390; ++y)
      dark += lightness(pixels.at(static_cast<int>(map.x + (value + 1) * 100), static_cast<int>(map.y) + y)) < 40 ? 1 : 0;
    return dark / 290.0;
  };
  CHECK(dark_rows(0.5) > 0.99);
  CHECK(dark_rows(1.5) > 0.99);
  CHECK(dark_rows(0) > 0.4);
  CHECK(dark_rows(0) < 0.8);
  CHECK(dark_rows(1) == 0);
}

TEST_CASE("the colour bar runs from paper at the foot to ink at the head") {
  Canvas canvas(200, 500);
  draw_colour_bar(canvas, {10, 10, 124, 454}, 40, 0.85);
  const Pixels pixels = canvas.pixels();
  // Bar: 26 wide from x = 58, 400 high from y = 38.
  CHECK(same(pixels.at(70, 437), ink_colour(0.5 / 400)));
  CHECK(same(pixels.at(70, 238), ink_colour(199.5 / 400)));
  CHECK(same(pixels.at(70, 38), ink_colour(399.5 / 400)));
  // Ticks: 20 kW/m² half-way up on the left; 20 suns (17 kW/m²) at 170/400 on the right.
  CHECK(lightness(pixels.at(54, 238)) < 70);
  CHECK(lightness(pixels.at(87, 438 - 170)) < 70);
  CHECK(lightness(pixels.at(87, 238)) > 95);
}
