// SPDX-License-Identifier: MIT
// A number for each pair of two values: a table of inked cells, more ink for more.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/pages.h"

namespace dishwright {

struct HeatChart {
  std::string x_label, y_label;               ///< with unit: "sun.aim_error [deg]"
  std::vector<std::string> x_names, y_names;  ///< of the columns, and of the rows from the lowest
  std::vector<std::optional<double>> values;  ///< rows × columns, row 0 the lowest; empty: no value, a crossed cell
  double bottom = 0, top = 1;                 ///< values of the lightest and of the darkest ink
  int decimals = 1;                           ///< of the numbers in the cells
  std::string unit;                           ///< of the values, beside the scale
};

/// Numbers stand in the cells where they fit.
void draw_heat_chart(Pages& pages, const Box& box, const HeatChart& chart);

}  // namespace dishwright
