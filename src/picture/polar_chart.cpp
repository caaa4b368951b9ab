// SPDX-License-Identifier: MIT
#include "picture/polar_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "picture/axes.h"
#include "picture/line_names.h"
#include "picture/line_pen.h"

namespace dishwright {

namespace {

constexpr int spoke_step = 15;                                   // [deg]
constexpr double above = 1.9, beside = 3.2, below_middle = 1.8;  // room for the words around it [em]

/// The half circle on the sheet.
struct Fan {
  const LineChart& chart;
  PagePoint middle;
  double radius = 1;  // of the outermost ring [mm]
  double length(double level) const {
    return radius * std::clamp((level - chart.y_from) / (chart.y_to - chart.y_from), 0.0, 1.0);
  }
  PagePoint place(double degrees, double length) const {
    const double angle = degrees * std::numbers::pi / 180;
    return {middle.x + length * std::sin(angle), middle.y - length * std::cos(angle)};
  }
};

void draw_spokes(Pages& pages, const Fan& fan, double type) {
  const Pen grid{0.022 * type, faint_ink, Dash::solid};
  for (int degrees = -90; degrees <= 90; degrees += spoke_step) {
    pages.line(fan.middle, fan.place(degrees, fan.radius), grid);
    const PagePoint at = fan.place(degrees, fan.radius + em(type) * (std::abs(degrees) == 90 ? 1.7 : 1.2));
    pages.text({at.x, at.y + 0.36 * em(type)}, fmt::format("{}°", std::abs(degrees)), picture_text(type, Side::middle));
  }
}

void draw_rings(Pages& pages, const Fan& fan, double type) {
  const Pen grid{0.022 * type, faint_ink, Dash::solid}, edge{0.028 * type, soft_ink, Dash::solid};
  TextStyle style = picture_text(type, Side::middle);
  style.halo = true;
  const double base = fan.middle.y + 1.4 * em(type);
  for (const Tick& tick : round_ticks(fan.chart.y_from, fan.chart.y_to, 5)) {
    const double length = fan.length(tick.value);
    if (length <= 0) continue;
    pages.arc(fan.middle, length, 0, 180, grid);
    if (length < fan.radius * 0.98) pages.text({fan.middle.x + length, base}, tick.label, style);
  }
  pages.arc(fan.middle, fan.radius, 0, 180, edge);
  pages.line({fan.middle.x - fan.radius, fan.middle.y}, {fan.middle.x + fan.radius, fan.middle.y}, edge);
  style.side = Side::right;
  pages.text({fan.middle.x - em(type), base}, fan.chart.y_label, style);
}

}  // namespace

void draw_half_circle(Pages& pages, const Box& box, const LineChart& chart) {
  if (!(chart.y_to > chart.y_from)) return;
  const double type = picture_type(box), unit = em(type);
  const double radius = std::min(box.width / 2 - beside * unit, box.height - (above + below_middle) * unit);
  if (radius <= 0) return;
  const Fan fan{chart, {box.x + box.width / 2, box.y + above * unit + radius}, radius};
  draw_spokes(pages, fan, type);
  draw_rings(pages, fan, type);
  for (std::size_t n = 0; n < chart.lines.size(); ++n) {
    const ChartLine& line = chart.lines[n];
    PageTrail points;
    for (std::size_t k = 0; k < line.x.size(); ++k) {
      if (std::abs(line.x[k]) <= 90 * (1 + 1e-9)) points.push_back(fan.place(line.x[k], fan.length(line.y[k])));
    }
    if (points.size() > 1) pages.polyline(points, line_pen(n, type));
  }
  draw_key_column(pages, {box.x, box.y + unit, std::max(10.0, box.width / 2 - 0.6 * radius), box.height}, chart.lines, type);
}

}  // namespace dishwright
