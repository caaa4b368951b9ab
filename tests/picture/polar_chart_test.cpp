// SPDX-License-Identifier: MIT
// Levels by direction stand where their angle and level say.
#include "picture/polar_chart.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "picture/colour_scale.h"

using namespace dishwright;

namespace {

constexpr double em9 = 9 * 25.4 / 72;  // type of a whole sheet [mm]
constexpr Box box{5, 30, 230, 125};
// The half circle: room for a name above, 3.2 em beside, 1.8 em below [mm].
constexpr double radius = 230 / 2.0 - 3.2 * em9, middle_x = 120, middle_y = 30 + 1.9 * em9 + radius;

LineChart fan_of(const std::vector<ChartLine>& lines) {
  LineChart chart;
  chart.form = ChartForm::half_circle;
  chart.y_label = "level [dB]";
  chart.y_from = -20, chart.y_to = 20;
  chart.lines = lines;
  return chart;
}

Pixels drawn(const LineChart& chart) {
  Pages pages(screen_page, "test");
  draw_line_chart(pages, box, chart);
  return pages.pixels(0, screen_dots);
}

bool is_dark(const Pixels& pixels, double degrees, double level) {
  const double angle = degrees * std::numbers::pi / 180, length = radius * (level + 20) / 40;
  return lightness(pixels.at(static_cast<int>(screen_dots * (middle_x + length * std::sin(angle))),
                             static_cast<int>(screen_dots * (middle_y - length * std::cos(angle))))) < 50;
}

}  // namespace

TEST_CASE("polar chart: straight ahead is up, +90 degrees to the right, the highest level on the rim") {
  ChartLine line{"2 kHz", {}, {}, {}};
  for (int degrees = -90; degrees <= 90; ++degrees) line.x.push_back(degrees), line.y.push_back(degrees > 0 ? 8 : -6);
  const Pixels pixels = drawn(fan_of({line}));
  for (const double degrees : {-80.0, -50.0, -20.0}) {
    CHECK(is_dark(pixels, degrees, -6));
    CHECK_FALSE(is_dark(pixels, degrees, 8));
  }
  for (const double degrees : {20.0, 52.0, 80.0}) {
    CHECK(is_dark(pixels, degrees, 8));
    CHECK_FALSE(is_dark(pixels, degrees, -6));
  }
}

TEST_CASE("polar chart: what is fainter than the scale stays in the middle, what is louder on the rim; no line, no crash") {
  const Pixels pixels = drawn(fan_of({{"all", {-90, 0, 90}, {-500, 300, -500}, {}}}));
  CHECK(is_dark(pixels, 0, 19.5));
  CHECK(drawn(fan_of({})).height == 900);
}
