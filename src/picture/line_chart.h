// SPDX-License-Identifier: MIT
// A chart of lines in a box of any size: round ticks, each line named, told apart by its dashes on a grey copy too.
#pragma once

#include <string>
#include <vector>

#include "picture/pages.h"

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

enum class ChartForm {
  plane,  ///< x to the right, y up
  /// x is an angle from the axis [deg], straight ahead on top, −90 … 90 from left to right; y_from in the middle, y_to on the
  /// rim.
  half_circle
};

struct LineChart {
  std::string x_label, y_label;  ///< with unit: "width [in]"
  double x_from = 0, x_to = 1, y_from = 0, y_to = 1;
  bool x_log = false;  ///< equal steps for equal ratios of x; x_from > 0
  std::vector<ChartLine>
      lines;  ///< up to 8; what lies outside the axes is cut off (on a half circle: drawn on its rim or in its middle)
  std::vector<ChartMark> marks;   ///< those outside the axes are left out, on a half circle all
  std::vector<ChartMark> levels;  ///< lines across that mark a value of y, in a plane; their words stand at the right, above them
  ChartForm form = ChartForm::plane;
};

/// Lines are named beside them in a box at least 120 mm wide, else in a key above.
void draw_line_chart(Pages& pages, const Box& box, const LineChart& chart);

}  // namespace dishwright
