// SPDX-License-Identifier: MIT
#include "picture/heat_chart.h"

#include <fmt/format.h>

#include <algorithm>

#include "picture/colour_scale.h"
#include "picture/ticks.h"

namespace dishwright {

namespace {

constexpr Box plot{128, 190, 900, 526};
constexpr Box bar{1092, 222, 26, 470};
constexpr double tick_text = 15, label_text = 18, number_text = 15;
constexpr double least_number_width = 46, least_number_height = 20;  // of a cell that holds a number [px]
constexpr int bar_steps = 64;
constexpr Colour soft{96, 96, 100}, white{255, 255, 255};

Box cell_box(const HeatChart& chart, std::size_t column, std::size_t row) {
  const double width = plot.width / static_cast<double>(chart.x_names.size()),
               height = plot.height / static_cast<double>(chart.y_names.size());
  return {plot.x + width * static_cast<double>(column), plot.bottom() - height * static_cast<double>(row + 1), width, height};
}

void draw_cell(Canvas& canvas, const HeatChart& chart, const Box& box, const std::optional<double>& value) {
  Pen pen;
  pen.colour = soft;
  if (!value) {
    canvas.line(box.x, box.y, box.right(), box.bottom(), pen);
    canvas.line(box.x, box.bottom(), box.right(), box.y, pen);
    return;
  }
  const double range = chart.top - chart.bottom;
  const double share = range > 0 ? std::clamp((*value - chart.bottom) / range, 0.0, 1.0) : 0;
  canvas.fill({box.x, box.y, box.width + 0.6, box.height + 0.6}, ink_colour(share));
  if (box.width < least_number_width || box.height < least_number_height) return;
  TextStyle style;
  style.size = number_text, style.side = Side::middle;
  if (lightness(ink_colour(share)) < 55) style.colour = white;
  canvas.text(box.x + box.width / 2, box.y + box.height / 2 - 10, fmt::format("{:.{}f}", *value, chart.decimals), style);
}

void draw_names(Canvas& canvas, const HeatChart& chart) {
  TextStyle style;
  style.size = tick_text, style.side = Side::middle;
  // Every n-th name where they would meet.
  double widest = 0;
  for (const std::string& name : chart.x_names) widest = std::max(widest, canvas.text_width(name, style));
  const double width = plot.width / static_cast<double>(chart.x_names.size()),
               height = plot.height / static_cast<double>(chart.y_names.size());
  const std::size_t every_x = static_cast<std::size_t>((widest + 14) / width) + 1,
                    every_y = static_cast<std::size_t>(22 / height) + 1;
  for (std::size_t c = 0; c < chart.x_names.size(); c += every_x)
    canvas.text(plot.x + width * (static_cast<double>(c) + 0.5), plot.bottom() + 8, chart.x_names[c], style);
  style.side = Side::right, style.room = 70;
  for (std::size_t r = 0; r < chart.y_names.size(); r += every_y)
    canvas.text(plot.x - 10, plot.bottom() - height * (static_cast<double>(r) + 0.5) - 10, chart.y_names[r], style);
  style.side = Side::middle, style.size = label_text, style.room = 0;
  canvas.text(plot.x + plot.width / 2, plot.bottom() + 34, chart.x_label, style);
  style.upward = true;
  canvas.text(32, plot.y + plot.height / 2, chart.y_label, style);
}

void draw_bar(Canvas& canvas, const HeatChart& chart) {
  for (int k = 0; k < bar_steps; ++k) {
    const double from = static_cast<double>(k) / bar_steps, height = bar.height / bar_steps;
    canvas.fill({bar.x, bar.bottom() - bar.height * from - height, bar.width, height + 0.6}, ink_colour(from + 0.5 / bar_steps));
  }
  canvas.frame(bar, Pen{});
  TextStyle style;
  style.size = tick_text, style.bold = true, style.side = Side::middle, style.room = 130;
  canvas.text(bar.x + bar.width / 2, bar.y - 28, chart.unit, style);
  style.bold = false, style.side = Side::left, style.room = 0;
  for (const Tick& tick : round_ticks(chart.bottom, chart.top, 8)) {
    const double y = bar.bottom() - (tick.value - chart.bottom) / (chart.top - chart.bottom) * bar.height;
    canvas.line(bar.right(), y, bar.right() + 6, y, Pen{});
    canvas.text(bar.right() + 9, y - 9, tick.label, style);
  }
}

void draw(Canvas& canvas, const HeatChart& chart) {
  draw_sheet(canvas, chart.words);
  if (chart.x_names.empty() || chart.y_names.empty() || chart.values.size() != chart.x_names.size() * chart.y_names.size())
    return;
  for (std::size_t r = 0; r < chart.y_names.size(); ++r) {
    for (std::size_t c = 0; c < chart.x_names.size(); ++c)
      draw_cell(canvas, chart, cell_box(chart, c, r), chart.values[r * chart.x_names.size() + c]);
  }
  Pen pen;
  pen.colour = soft;
  canvas.frame(plot, pen);
  draw_names(canvas, chart);
  draw_bar(canvas, chart);
}

}  // namespace

Pixels draw_heat_chart(const HeatChart& chart) {
  return sheet_pixels([&](Canvas& canvas) { draw(canvas, chart); });
}

std::string heat_chart_svg(const HeatChart& chart) {
  return sheet_svg(chart.words, [&](Canvas& canvas) { draw(canvas, chart); });
}

}  // namespace dishwright
