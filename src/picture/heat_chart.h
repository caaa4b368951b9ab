// SPDX-License-Identifier: MIT
// A number for each pair of two values: a table of inked cells on a work-card, more ink for more.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/pixels.h"
#include "picture/sheet.h"

namespace dishwright {

struct HeatChart {
  SheetWords words;
  std::string x_label, y_label;               ///< with unit: "sun.aim_error [deg]"
  std::vector<std::string> x_names, y_names;  ///< of the columns, and of the rows from the lowest
  std::vector<std::optional<double>> values;  ///< rows × columns, row 0 the lowest; empty: no value, a crossed cell
  double bottom = 0, top = 1;                 ///< values of the lightest and of the darkest ink
  int decimals = 1;                           ///< of the numbers in the cells
  std::string unit;                           ///< of the values, beside the scale
};

/// 1200 × 900 pixels. Numbers stand in the cells where they fit.
Pixels draw_heat_chart(const HeatChart& chart);
/// The same as an SVG file, its question and answer as title and description.
std::string heat_chart_svg(const HeatChart& chart);

}  // namespace dishwright
