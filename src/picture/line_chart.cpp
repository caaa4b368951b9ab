// SPDX-License-Identifier: MIT
#include "picture/line_chart.h"

#include <algorithm>
#include <cmath>

#include "picture/axes.h"
#include "picture/line_names.h"
#include "picture/line_pen.h"
#include "picture/polar_chart.h"

namespace dishwright {

namespace {

constexpr double closest = 0.3;       // points of a line [mm]
constexpr double names_beside = 120;  // from this width on lines are named beside them [mm]

Colour pale(const Colour& c) {
  const auto mix = [](int channel) { return static_cast<std::uint8_t>(255 - (255 - channel) / 4); };
  return {mix(c.red), mix(c.green), mix(c.blue)};
}

PageTrail points_of(const Axes& axes, const ChartLine& line) {
  PageTrail points;
  for (std::size_t i = 0; i < line.x.size(); ++i) {
    const PagePoint at = axes.at(line.x[i], line.y[i]);
    const bool near = !points.empty() && std::hypot(at.x - points.back().x, at.y - points.back().y) < closest;
    if (!near || i + 1 == line.x.size()) points.push_back(at);
  }
  return points;
}

void draw_bands(Pages& pages, const Axes& axes, const LineChart& chart, double type) {
  for (std::size_t n = 0; n < chart.lines.size(); ++n) {
    const ChartLine& line = chart.lines[n];
    if (line.error.size() != line.x.size()) continue;
    ChartLine above = line, below = line;
    for (std::size_t i = 0; i < line.y.size(); ++i) above.y[i] += line.error[i], below.y[i] -= line.error[i];
    PageTrail edge = points_of(axes, above);
    const PageTrail back = points_of(axes, below);
    edge.insert(edge.end(), back.rbegin(), back.rend());
    pages.fill(edge, pale(line_pen(n, type).colour));
  }
}

/// Lines across; words above the line at its right end, and off them all others.
void draw_levels(Pages& pages, const Axes& axes, const LineChart& chart, double type, LineNames& names) {
  const Box& plot = axes.box;
  TextStyle style;
  style.size = type, style.colour = soft_ink, style.side = Side::right, style.halo = true;
  for (const ChartMark& level : chart.levels) {
    if (level.at <= chart.y_from || level.at > chart.y_to) continue;
    const double y = axes.at(chart.x_from, level.at).y, width = pages.text_width(level.label, style), high = em(type);
    pages.line({plot.x, y}, {plot.right(), y}, {0.036 * type, soft_ink, Dash::dashed});
    names.keep_off({plot.x, y - 0.4, plot.width, 0.8});
    const double room = 0.3 * high;
    pages.text({plot.right() - room, y - room}, level.label, style);
    names.keep_off({plot.right() - room - width, y - room - high, width + room, high});
  }
}

void draw_marks(Pages& pages, const Axes& axes, const LineChart& chart, double type, LineNames& names) {
  const auto shown = [&](const ChartMark& mark) { return mark.at > chart.x_from && mark.at <= chart.x_to; };
  const Box& plot = axes.box;
  for (const ChartMark& mark : chart.marks) {
    if (!shown(mark)) continue;
    const double x = axes.at(mark.at, chart.y_from).x;
    pages.line({x, plot.y}, {x, plot.bottom()}, {0.036 * type, soft_ink, Dash::dashed});
    names.keep_off({x - 0.6, plot.y, 1.2, plot.height});
  }
  for (const ChartMark& mark : chart.marks) {
    if (shown(mark)) names.draw_beside(axes.at(mark.at, chart.y_from).x, mark.label);
  }
}

}  // namespace

void draw_line_chart(Pages& pages, const Box& box, const LineChart& chart) {
  if (chart.form == ChartForm::half_circle) {
    draw_half_circle(pages, box, chart);
    return;
  }
  if (!(chart.x_to > chart.x_from && chart.y_to > chart.y_from)) return;
  const double type = picture_type(box);
  const bool beside = box.width >= names_beside;
  const MapWindow window{chart.x_from, chart.x_to, chart.y_from, chart.y_to};
  const AxisWords words{chart.x_label, chart.y_label, type, true};
  // Room for the numbers and labels, half of the last number at the right, and the key.
  const double left = axes_left(pages, window, words), right = 1.4 * em(type);
  const double key = beside ? 0.6 * em(type) : key_height(pages, box.width - left, chart.lines, type);
  const Axes axes{
      {box.x + left, box.y + key, box.width - left - right, box.height - key - axes_below(words)}, window, chart.x_log};
  if (axes.box.width <= 0 || axes.box.height <= 0) return;
  if (!beside) draw_key(pages, {box.x + left, box.y, box.width - left, key}, chart.lines, type);
  draw_axes(pages, axes, words);
  pages.clip(axes.box);
  draw_bands(pages, axes, chart, type);
  std::vector<PageTrail> lines;
  for (std::size_t n = 0; n < chart.lines.size(); ++n) {
    lines.push_back(points_of(axes, chart.lines[n]));
    pages.polyline(lines.back(), line_pen(n, type));
  }
  pages.drop_clip();
  LineNames names(pages, axes.box, type, lines);
  draw_levels(pages, axes, chart, type, names);
  draw_marks(pages, axes, chart, type, names);
  for (std::size_t n = 0; beside && n < chart.lines.size(); ++n) names.draw_name(n, chart.lines[n].label);
}

}  // namespace dishwright
