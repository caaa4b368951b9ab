// SPDX-License-Identifier: MIT
// A chart of lines on a work-card: round ticks, each line named beside it, told apart by its dashes on a grey copy too.
#pragma once

#include <string>
#include <vector>

#include "picture/pixels.h"
#include "picture/sheet.h"

namespace dishwright {

struct ChartLine {
  std::string label;
  std::vector<double> x, y;   ///< of equal length, x rising
  std::vector<double> error;  ///< of y; a pale band of ± this is drawn; empty = none
};

/// An upright line that marks a value of x.
struct ChartMark {
  double at = 0;
  std::string label;
};

struct LineChart {
  SheetWords words;
  std::string x_label, y_label;  ///< with unit: "width [in]"
  double x_from = 0, x_to = 1, y_from = 0, y_to = 1;
  bool x_log = false;            ///< equal steps for equal ratios of x; x_from > 0
  std::vector<ChartLine> lines;  ///< up to 8; what lies outside the axes is cut off
  std::vector<ChartMark> marks;  ///< those outside the axes are left out
};

/// How line number `number` (from 0) is drawn. Dashes tell lines apart; ink of different depth helps where there is colour. All are
/// dark enough to read on paper.
struct ChartLineStyle {
  Dash dash = Dash::solid;
  Colour colour;
};
ChartLineStyle chart_line_style(std::size_t number);

/// 1200 × 900 pixels.
Pixels draw_line_chart(const LineChart& chart);
/// The same as an SVG file, its question and answer as title and description.
std::string line_chart_svg(const LineChart& chart);

}  // namespace dishwright
