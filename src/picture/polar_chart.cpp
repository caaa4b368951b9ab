// SPDX-License-Identifier: MIT
#include "picture/polar_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "picture/line_pen.h"
#include "picture/ticks.h"

namespace dishwright {

namespace {

constexpr double middle_x = 600, middle_y = 742, radius = 500;  // of the outermost ring [px]
constexpr double tick_text = 16, name_text = 18, name_step = 28;
constexpr int spoke_step = 15;  // [deg]
constexpr Colour soft{96, 96, 100}, faint{214, 214, 212};

struct Fan {
  const LineChart& chart;
  double length(double level) const {
    return radius * std::clamp((level - chart.y_from) / (chart.y_to - chart.y_from), 0.0, 1.0);
  }
  std::pair<double, double> place(double degrees, double length) const {
    const double angle = degrees * std::numbers::pi / 180;
    return {middle_x + length * std::sin(angle), middle_y - length * std::cos(angle)};
  }
  Canvas::Points ring(double length) const {
    Canvas::Points points;
    for (int degrees = -90; degrees <= 90; ++degrees) points.push_back(place(degrees, length));
    return points;
  }
};

void draw_rings(Canvas& canvas, const Fan& fan) {
  Pen grid, edge;
  grid.colour = faint, edge.colour = soft;
  TextStyle style;
  style.size = tick_text, style.side = Side::middle;
  for (int degrees = -90; degrees <= 90; degrees += spoke_step) {
    const auto [x, y] = fan.place(degrees, radius);
    canvas.line(middle_x, middle_y, x, y, grid);
    const auto [text_x, text_y] = fan.place(degrees, radius + (std::abs(degrees) == 90 ? 28 : 20));
    canvas.text(text_x, text_y - 10, fmt::format("{}°", std::abs(degrees)), style);
  }
  style.halo = true;
  for (const Tick& tick : round_ticks(fan.chart.y_from, fan.chart.y_to, 5)) {
    const double length = fan.length(tick.value);
    canvas.curve(fan.ring(length), grid);
    if (length > 0 && length < radius * 0.98) canvas.text(middle_x + length, middle_y + 4, tick.label, style);
  }
  canvas.curve(fan.ring(radius), edge);
  canvas.line(middle_x - radius, middle_y, middle_x + radius, middle_y, edge);
  style.side = Side::right;
  canvas.text(middle_x - 14, middle_y + 4, fan.chart.y_label, style);
}

/// Samples of the lines with their names, in the corner that the half circle leaves free.
void draw_key(Canvas& canvas, const LineChart& chart) {
  TextStyle style;
  style.size = name_text, style.bold = true, style.room = 190;
  double y = sheet_room.y + 26;
  for (std::size_t n = 0; n < chart.lines.size(); ++n, y += name_step) {
    const Pen pen = line_pen(n);
    style.colour = pen.colour;
    canvas.line(sheet_room.x + 8, y + 11, sheet_room.x + 62, y + 11, pen);
    canvas.text(sheet_room.x + 72, y, chart.lines[n].label, style);
  }
}

void draw(Canvas& canvas, const LineChart& chart) {
  draw_sheet(canvas, chart.words);
  if (!(chart.y_to > chart.y_from)) return;
  const Fan fan{chart};
  draw_rings(canvas, fan);
  for (std::size_t n = 0; n < chart.lines.size(); ++n) {
    Canvas::Points points;
    for (std::size_t k = 0; k < chart.lines[n].x.size(); ++k) {
      if (std::abs(chart.lines[n].x[k]) <= 90 * (1 + 1e-9))
        points.push_back(fan.place(chart.lines[n].x[k], fan.length(chart.lines[n].y[k])));
    }
    if (points.size() > 1) canvas.curve(points, line_pen(n));
  }
  draw_key(canvas, chart);
}

}  // namespace

Pixels draw_polar_chart(const LineChart& chart) {
  return sheet_pixels([&](Canvas& canvas) { draw(canvas, chart); });
}

std::string polar_chart_svg(const LineChart& chart) {
  return sheet_svg(chart.words, [&](Canvas& canvas) { draw(canvas, chart); });
}

}  // namespace dishwright
