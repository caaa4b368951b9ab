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

// The map is 80 × 80 mm, 400 × 400 dots, from (20, 20) mm: what stands around it is given.
constexpr Box room{0, 10, 100, 100};
constexpr PanelRoom around{20, 10, 10};
constexpr double type = 8.5;

struct Drawn {
  Pixels pixels;
  Box map;  ///< [dots]
};
Drawn drawn(const MapPanel& panel, double top) {
  Pages pages({120, 120}, "test");
  const Box map = draw_panel(pages, room, panel, top, type, around);
  return {pages.pixels(0, screen_dots), {map.x * 5, map.y * 5, map.width * 5, map.height * 5}};
}

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
  const auto [pixels, map] = drawn(stairs(), 1600);
  CHECK(map.width == testing::approx(400));
  CHECK(map.height == testing::approx(400));
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
  const auto [pixels, map] = drawn(panel, 1600);
  CHECK(map.height == testing::approx(400));
  CHECK(map.width == testing::approx(200));
  const Colour seen = pixels.at(static_cast<int>(map.x + 100), static_cast<int>(map.y + 200));  // (1.5, 2)
  CHECK(std::fabs(lightness(seen) - lightness(ink_colour((1 + 24.5 + 40 * 19.5) / 1600))) < 0.6);
}

TEST_CASE("circles stand at their place; solid and dashed differ without colour") {
  MapPanel panel = even(1);
  panel.circles = {{1, 2, 1, "50 %", MarkLine::solid}, {1, 2, 3, "90 %", MarkLine::dashed}};
  const auto [pixels, map] = drawn(panel, 1000);  // nearly white below the lines
  const double x = map.x + 200, y = map.y + 200;
  const double solid = dark_share(pixels, x, y, 50), dashed = dark_share(pixels, x, y, 150);
  CHECK(solid > 0.9);
  CHECK(dashed > 0.4);
  CHECK(dashed < 0.8);
  CHECK(dark_share(pixels, x, y, 100) < 0.1);
  // Both stand out where the map is at its darkest: their halo is white.
  MapPanel black = even(1000);
  black.circles = panel.circles;
  const Pixels seen = drawn(black, 1000).pixels;
  double lightest = 0;
  for (int r = 48; r < 56; ++r) lightest = std::max(lightest, lightness(seen.at(static_cast<int>(x) + r, static_cast<int>(y))));
  CHECK(lightest > 80);
}

TEST_CASE("a circle or a band without a line on the map has no name there") {
  const MapPanel bare = even(1);
  const Pixels none = drawn(bare, 1600).pixels;
  MapPanel beside = bare, around_all = bare, cut = bare, wide = bare;
  beside.circles = {{20, 2, 1, "50 %", MarkLine::solid}};
  around_all.circles = {{1, 2, 30, "90 %", MarkLine::dashed}};
  wide.bands = {{-20, 20, "90 %", MarkLine::dashed}};
  CHECK(drawn(beside, 1600).pixels.rgba == none.rgba);
  CHECK(drawn(around_all, 1600).pixels.rgba == none.rgba);
  CHECK(drawn(wide, 1600).pixels.rgba == none.rgba);
  // Its top and its foot are off the map, its right side is on it: line and name are drawn.
  cut.circles = {{-2, 2, 8, "50 %", MarkLine::solid}};
  const Drawn some = drawn(cut, 1600);
  cut.circles[0].label = "";
  CHECK(some.pixels.rgba != none.rgba);
  CHECK(some.pixels.rgba != drawn(cut, 1600).pixels.rgba);
}

TEST_CASE("bands are upright lines at both edges") {
  MapPanel panel = even(1);
  panel.bands = {{0.5, 1.5, "50 %", MarkLine::solid}, {0, 2, "90 %", MarkLine::dashed}};
  const auto [pixels, map] = drawn(panel, 1000);
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

TEST_CASE("the scale runs from paper at the foot to ink at the head, in two units where a sun is given") {
  ScaleBar bar;
  bar.to = 40, bar.beam = 0.85, bar.unit = "kW/m²";
  Pages pages({60, 120}, "test");
  const double head = 1.7 * em(type);  // for the unit
  draw_scale_bar(pages, {10, 10, 40, 80 + head}, bar, type);
  const Pixels pixels = pages.pixels(0, screen_dots);
  // Its sides: the first and last dark dots half-way up, ticks aside (there is one at 20, so look at 19).
  const double foot = 5 * (90 + head), y = foot - 19.0 / 40 * 400;
  int left = 0, right = 0;
  for (int x = 0; x < 300; ++x) {
    if (lightness(pixels.at(x, static_cast<int>(y))) > 95) continue;
    if (left == 0) left = x;
    right = x;
  }
  CHECK(right - left == testing::approx(5 * 1.75 * em(type)).epsilon(0.15));
  const int middle = (left + right) / 2;
  for (const double value : {1.0, 10.0, 19.0, 30.0, 39.0}) {
    CAPTURE(value);
    const Colour seen = pixels.at(middle, static_cast<int>(foot - value / 40 * 400));
    CHECK(std::fabs(lightness(seen) - lightness(ink_colour(value / 40))) < 1.5);
  }
  // Ticks: 20 kW/m² half-way up on the left; 20 suns (17 kW/m²) at 170/400 on the right.
  CHECK(lightness(pixels.at(left - 3, static_cast<int>(foot - 200))) < 70);
  CHECK(lightness(pixels.at(right + 3, static_cast<int>(foot - 170))) < 70);
  CHECK(lightness(pixels.at(right + 3, static_cast<int>(foot - 200))) > 95);
}

TEST_CASE("a face that is shown in part brings a small picture of the whole") {
  MapPicture picture;
  picture.panels = {stairs()};
  picture.top = 1600;
  const auto ink_below_bar = [&] {
    Pages pages({160, 125}, "test");
    draw_map_picture(pages, {5, 5, 150, 115}, picture);
    const Pixels pixels = pages.pixels(0, screen_dots);
    int count = 0;
    for (int y = 450; y < 600; ++y) {
      for (int x = 640; x < 775; ++x) count += lightness(pixels.at(x, y)) < 60 ? 1 : 0;
    }
    return count;
  };
  picture.bar = false;
  CHECK(ink_below_bar() == 0);
  picture.panels[0].view = {0, 1, 1, 2};
  CHECK(ink_below_bar() > 600);
}
