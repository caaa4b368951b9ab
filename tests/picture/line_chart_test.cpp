// SPDX-License-Identifier: MIT
// Lines of a chart are where their numbers say, told apart without colour, and named.
#include "picture/line_chart.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "approx.h"
#include "picture/work_card.h"

using namespace dishwright;

namespace {

constexpr Box box{5, 30, 230, 122};
constexpr double em9 = 9 * 25.4 / 72;  // type of a whole sheet [mm]

LineChart chart_of(const std::vector<ChartLine>& lines) {
  LineChart chart;
  chart.x_label = "width [in]", chart.y_label = "share [%]";
  chart.x_from = 0, chart.x_to = 10, chart.y_from = 0, chart.y_to = 100;
  chart.lines = lines;
  return chart;
}

Pages drawn(const LineChart& chart) {
  Pages pages(screen_page, "test");
  draw_line_chart(pages, box, chart);
  return pages;
}
Pixels draw_line_chart(const LineChart& chart) { return drawn(chart).pixels(0, screen_dots); }

/// The plot's frame [dots]: labels of "100" and "share [%]" at its left, 1.4 em at its right, 0.6 above, 3.6 below.
double plot_left() {
  Pages pages(screen_page, "");
  return screen_dots * (box.x + pages.text_width("100", {9}) + em9 * (0.35 + 0.5 + 1.6));
}
const double left = plot_left(), right = screen_dots * (box.right() - 1.4 * em9), top = screen_dots * (box.y + 0.6 * em9),
             bottom = screen_dots * (box.bottom() - 3.6 * em9);

ChartLine level(const std::string& label, double y) { return {label, {0, 10}, {y, y}, {}}; }

double x_at(double value) { return left + value / 10 * (right - left); }
double y_at(double value) { return bottom - value / 100 * (bottom - top); }
const int from_x = static_cast<int>(x_at(0.2)), to_x = static_cast<int>(x_at(9.8));

bool is_dark(const Pixels& pixels, double x, double y) {
  return lightness(pixels.at(static_cast<int>(x), static_cast<int>(y))) < 50;
}

/// Share of the dark pixels along a level line, from x = 0.2 to 9.8.
double dark_share(const Pixels& pixels, double y) {
  int dark = 0, all = 0;
  for (int x = from_x; x < to_x; ++x, ++all) dark += is_dark(pixels, x, y_at(y)) ? 1 : 0;
  return static_cast<double>(dark) / all;
}

int inked(const Pixels& pixels, double x0, double y0, double x1, double y1) {
  int count = 0;
  for (int y = static_cast<int>(y0); y < y1; ++y) {
    for (int x = static_cast<int>(x0); x < x1; ++x) count += lightness(pixels.at(x, y)) < 60 ? 1 : 0;
  }
  return count;
}

}  // namespace

TEST_CASE("a line goes through its points") {
  const Pixels pixels = draw_line_chart(chart_of({{"rise", {0, 5, 10}, {10, 60, 90}, {}}}));
  CHECK(pixels.width == 1200);
  CHECK(pixels.height == 900);
  for (const auto& [x, y] : {std::pair{1.0, 20.0}, {2.5, 35.0}, {5.0, 60.0}, {9.0, 84.0}}) {
    CHECK(is_dark(pixels, x_at(x), y_at(y)));
    CHECK_FALSE(is_dark(pixels, x_at(x), y_at(y) + 12));
    CHECK_FALSE(is_dark(pixels, x_at(x) - 14, y_at(y) - 3));
  }
}

TEST_CASE("the same chart is the same picture and the same drawing every time") {
  const LineChart chart = chart_of({level("a", 20), level("b", 70)});
  CHECK(draw_line_chart(chart).rgba == draw_line_chart(chart).rgba);
  CHECK(drawn(chart).svg(0) == drawn(chart).svg(0));
}

TEST_CASE("eight lines have unlike dashes or widths, on a grey copy too") {
  std::vector<ChartLine> lines;
  lines.reserve(8);
  for (int i = 0; i < 8; ++i) lines.push_back(level("", 10.0 + 10 * i));
  const Pixels pixels = draw_line_chart(chart_of(lines));
  // Changes along the line, and how thick its dashes are [px].
  std::vector<std::pair<double, double>> looks;
  const auto dark_at = [&](int x, double y) { return lightness(pixels.at(x, static_cast<int>(y))) < 75; };
  for (int i = 0; i < 8; ++i) {
    const double y = y_at(10.0 + 10 * i);
    int changes = 0, thick = 0, columns = 0;
    for (int x = from_x; x < to_x; ++x) {
      changes += dark_at(x, y) && !dark_at(x + 1, y) ? 1 : 0;
      if (!dark_at(x, y)) continue;
      ++columns;
      for (int dy = -4; dy <= 4; ++dy) thick += dark_at(x, y + dy) ? 1 : 0;
    }
    REQUIRE(columns > 200);
    looks.emplace_back(changes, static_cast<double>(thick) / columns);
  }
  CHECK(looks[0].first == 0);  // the first is solid
  for (std::size_t i = 0; i < looks.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      CAPTURE(i);
      CAPTURE(j);
      const double dashes_apart = std::abs(looks[i].first - looks[j].first) / (1 + std::max(looks[i].first, looks[j].first));
      CHECK((dashes_apart > 0.15 || std::abs(looks[i].second - looks[j].second) > 0.6));
    }
  }
}

TEST_CASE("names stand off the lines and off each other") {
  // Two level lines, 10 apart (52 px), and one far away: each name adds ink near its own line.
  const std::vector<ChartLine> named = {level("paraboloid", 50), level("sphere", 60), level("trough", 10)};
  std::vector<ChartLine> bare = named;
  for (ChartLine& line : bare) line.label = "";
  const Pixels with = draw_line_chart(chart_of(named)), without = draw_line_chart(chart_of(bare));
  for (const double y : {50.0, 60.0, 10.0}) {
    CHECK(dark_share(with, y) == testing::approx(dark_share(without, y)).epsilon(1e-9));  // no letters, no halo on a line
    CHECK(inked(with, left + 2, y_at(y) - 40, right - 2, y_at(y) + 40) -
              inked(without, left + 2, y_at(y) - 40, right - 2, y_at(y) + 40) >
          200);
  }
}

TEST_CASE("names cover no line where lines run in every direction") {
  // Steep, shallow and falling lines that cross; the middle of the sheet is crowded.
  std::vector<ChartLine> lines = {{"steep one", {3, 4}, {0, 100}, {}},
                                  {"another steep", {4.5, 5.5}, {0, 100}, {}},
                                  {"falling", {0, 10}, {90, 10}, {}},
                                  {"rising", {0, 10}, {20, 80}, {}},
                                  {"low and level", {0, 10}, {30, 34}, {}},
                                  {"high and level", {0, 10}, {66, 62}, {}},
                                  {"a saw", {0, 2, 4, 6, 8, 10}, {45, 55, 45, 55, 45, 55}, {}}};
  const Pixels with = draw_line_chart(chart_of(lines));
  for (ChartLine& line : lines) line.label = "";
  const Pixels without = draw_line_chart(chart_of(lines));
  int line_pixels = 0, covered = 0;
  for (int y = static_cast<int>(top) + 2; y < bottom - 2; ++y) {
    for (int x = static_cast<int>(left) + 2; x < right - 2; ++x) {
      if (lightness(without.at(x, y)) > 50) continue;
      ++line_pixels;
      covered += lightness(with.at(x, y)) > 60 ? 1 : 0;
    }
  }
  CHECK(line_pixels > 5'000);
  CHECK(covered == 0);
}

TEST_CASE("a band of error is pale and as wide as its numbers") {
  const Pixels pixels = draw_line_chart(chart_of({{"a", {0, 10}, {50, 50}, {10, 10}}}));
  const auto light = [&](double y) { return lightness(pixels.at(static_cast<int>(x_at(1.3)), static_cast<int>(y_at(y)))); };
  for (const double y : {41.5, 47.0, 53.0, 58.5}) CHECK(light(y) == testing::approx(82).epsilon(0.08));
  for (const double y : {38.5, 61.5}) CHECK(light(y) > 97);
}

TEST_CASE("a mark stands at its value, one outside is left out; lines are cut at the frame") {
  LineChart chart = chart_of({{"a", {0, 10}, {50, 400}, {}}});
  chart.marks = {{4, "kettle: 4 in wide"}, {12, "beyond"}};
  const Pixels pixels = draw_line_chart(chart);
  int dark = 0;
  for (int y = static_cast<int>(top) + 2; y < bottom - 2; ++y)
    dark += lightness(pixels.at(static_cast<int>(x_at(4)), y)) < 75 ? 1 : 0;
  CHECK(dark > 0.5 * (bottom - top));
  CHECK(inked(pixels, right + 3, top, 1190, bottom - 3) == 0);
  CHECK(inked(pixels, left, top - 20, right, top - 3) == 0);
}

TEST_CASE("odd charts are drawn all the same") {
  LineChart chart = chart_of({});
  CHECK(draw_line_chart(chart).height == 900);
  chart.x_to = chart.x_from;
  CHECK(draw_line_chart(chart).height == 900);
  chart = chart_of({{"outside", {20, 30}, {5, 5}, {}}, {"empty", {}, {}, {}}, {std::string(300, 'W'), {1, 2}, {3, 4}, {1}}});
  CHECK(draw_line_chart(chart).height == 900);
}

TEST_CASE("a small chart has a key above its plot in place of names beside its lines; long names take more rows") {
  const std::vector<ChartLine> lines = {level("a line with a name that is rather long", 20),
                                        level("another name that is long", 40), level("short", 60)};
  const auto frame_top = [&](std::size_t count) {
    Pages pages(a4_page, "");
    draw_line_chart(pages, {20, 20, 90, 60}, chart_of({lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(count)}));
    const Pixels pixels = pages.pixels(0, screen_dots);
    for (int y = 100;; ++y) {  // the first row with a line over the whole plot
      if (inked(pixels, 300, y, 500, y + 1) > 195) return y;
    }
  };
  CHECK(frame_top(1) > 105);
  CHECK(frame_top(2) > frame_top(1) + 8);
  CHECK(frame_top(3) == frame_top(2));
}

TEST_CASE("maps side by side: a common scale gives equal light equal ink; own scales do not") {
  MapPanel panel;
  panel.heading = "one";
  panel.x_label = "x [in]", panel.y_label = "y [in]";
  panel.columns = panel.rows = 8;
  panel.face = panel.view = {-1, 1, -1, 1};
  panel.values.assign(64, 10);
  MapPanel brighter = panel;
  brighter.values.assign(64, 40);
  MapGrid grid;
  grid.panels = {panel, brighter, panel};
  grid.tops = {40}, grid.beam = 1;
  const auto draw_map_grid = [](const MapGrid& shown) {
    Pages pages(screen_page, "test");
    dishwright::draw_map_grid(pages, {5, 34, 230, 122}, shown);
    return pages.pixels(0, screen_dots);
  };
  const auto colour_count = [](const Pixels& pixels, const Colour& wanted) {
    int count = 0;
    for (int y = 170; y < 781; ++y) {
      for (int x = 26; x < 1030; ++x) {
        const Colour c = pixels.at(x, y);
        count += c.red == wanted.red && c.green == wanted.green && c.blue == wanted.blue ? 1 : 0;
      }
    }
    return count;
  };
  const Pixels common = draw_map_grid(grid);
  const int quarter = colour_count(common, ink_colour(0.25)), full = colour_count(common, ink_colour(1));
  CHECK(full > 10'000);
  CHECK(quarter == testing::approx(2 * full).epsilon(0.02));
  grid.tops = {40, 80, 10};  // 10, 40 and 10 are a quarter, half and all of these
  const Pixels own = draw_map_grid(grid);
  for (const double part : {0.25, 0.5, 1.0}) {
    CAPTURE(part);
    CHECK(colour_count(own, ink_colour(part)) > 20'000);
  }
  for (std::size_t count = 1; count <= 8; ++count) {
    grid.panels.assign(count, panel);
    grid.tops.assign(count, count == 5 ? 0.0 : 10.0);
    CHECK(draw_map_grid(grid).height == 900);
  }
}
