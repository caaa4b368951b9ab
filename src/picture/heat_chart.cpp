// SPDX-License-Identifier: MIT
#include "picture/heat_chart.h"

#include <fmt/format.h>

#include <algorithm>

#include "picture/axes.h"

namespace dishwright {

namespace {

constexpr double least_number_width = 3.1, least_number_height = 1.35;  // of a cell that holds a number [em]
constexpr double most_name = 4.7;                                       // of a row [em]

/// Where the cells are.
struct Cells {
  Box plot;
  double width, height;
  Box cell(std::size_t column, std::size_t row) const {
    return {plot.x + width * static_cast<double>(column), plot.bottom() - height * static_cast<double>(row + 1), width, height};
  }
};

void draw_cell(Pages& pages, const HeatChart& chart, const Box& box, const std::optional<double>& value, double type) {
  if (!value) {
    const Pen pen{0.022 * type, soft_ink, Dash::solid};
    pages.line({box.x, box.y}, {box.right(), box.bottom()}, pen);
    pages.line({box.x, box.bottom()}, {box.right(), box.y}, pen);
    return;
  }
  const double range = chart.top - chart.bottom;
  const double share = range > 0 ? std::clamp((*value - chart.bottom) / range, 0.0, 1.0) : 0;
  pages.fill(Box{box.x, box.y, box.width + 0.1, box.height + 0.1}, ink_colour(share));
  if (box.width < least_number_width * em(type) || box.height < least_number_height * em(type)) return;
  TextStyle style = picture_text(type, Side::middle);
  if (lightness(ink_colour(share)) < 55) style.colour = paper_white;
  pages.text({box.x + box.width / 2, box.y + box.height / 2 + 0.36 * em(type)}, fmt::format("{:.{}f}", *value, chart.decimals),
             style);
}

/// The names of columns and rows; every n-th where they would meet.
void draw_names(Pages& pages, const HeatChart& chart, const Cells& cells, double type) {
  const double unit = em(type);
  double widest = 0;
  for (const std::string& name : chart.x_names) widest = std::max(widest, pages.text_width(name, picture_text(type)));
  const std::size_t every_x = static_cast<std::size_t>((widest + unit) / cells.width) + 1,
                    every_y = static_cast<std::size_t>(1.4 * unit / cells.height) + 1;
  for (std::size_t c = 0; c < chart.x_names.size(); c += every_x) {
    const Box cell = cells.cell(c, 0);
    pages.text({cell.x + cell.width / 2, cells.plot.bottom() + 1.5 * unit}, chart.x_names[c], picture_text(type, Side::middle));
  }
  TextStyle style = picture_text(type, Side::right);
  style.room = most_name * unit;
  for (std::size_t r = 0; r < chart.y_names.size(); r += every_y) {
    const Box cell = cells.cell(0, r);
    pages.text({cells.plot.x - 0.6 * unit, cell.y + cell.height / 2 + 0.36 * unit}, chart.y_names[r], style);
  }
}

}  // namespace

void draw_heat_chart(Pages& pages, const Box& box, const HeatChart& chart) {
  const std::size_t columns = chart.x_names.size(), rows = chart.y_names.size();
  if (columns == 0 || rows == 0 || chart.values.size() != columns * rows) return;
  const double type = picture_type(box), unit = em(type);
  const AxisWords words{chart.x_label, chart.y_label, type, false};
  double widest = 0;
  for (const std::string& name : chart.y_names) widest = std::max(widest, pages.text_width(name, picture_text(type)));
  const double left = std::min(widest, most_name * unit) + 2.2 * unit;
  ScaleBar bar;
  bar.from = chart.bottom, bar.to = chart.top, bar.unit = chart.unit;
  const double bar_width = scale_bar_width(pages, bar, type), gap = 1.5 * unit;
  const Box plot{box.x + left, box.y + 0.5 * unit, box.width - left - gap - bar_width,
                 box.height - 0.5 * unit - axes_below(words)};
  if (plot.width <= 0 || plot.height <= 0) return;
  const Cells cells{plot, plot.width / static_cast<double>(columns), plot.height / static_cast<double>(rows)};
  pages.clip(plot);
  for (std::size_t r = rows; r-- > 0;) {
    for (std::size_t c = 0; c < columns; ++c) draw_cell(pages, chart, cells.cell(c, r), chart.values[r * columns + c], type);
  }
  pages.drop_clip();
  pages.frame(plot, {0.028 * type, soft_ink, Dash::solid});
  draw_names(pages, chart, cells, type);
  draw_axis_labels(pages, plot, left, words);
  draw_scale_bar(pages, {plot.right() + gap, box.y + 0.5 * unit, bar_width, plot.height}, bar, type);
}

}  // namespace dishwright
