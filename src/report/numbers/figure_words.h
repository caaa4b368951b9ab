// SPDX-License-Identifier: MIT
// How a figure is printed: its words, unit and scale, from the one table of figures.
#pragma once

#include <string>

#include "report/numbers/number_text.h"
#include "result/figure_table.h"
#include "scene/scene.h"

namespace dishwright {

/// A figure as people read it.
struct FigureWords {
  std::string name;   ///< of the JSON: "intercept"
  std::string words;  ///< "share caught"
  std::string unit;   ///< printed: "%", "kW/m²", "in", "dB"; empty for a pure number
  double per_si = 1;  ///< printed number / SI number
  std::string label() const { return unit.empty() ? words : words + " [" + unit + "]"; }
};

/// `scene` says what light is printed in and whether a gain is one of radio; `band`: spots are bands, not circles.
FigureWords figure_words(const FigureRow& row, const Scene& scene, bool band, Units units);

/// A column of a CSV file: "spot_width_50 [in]"; units in plain letters, for spreadsheets. `more` stands behind the name: " ±".
std::string figure_column(const FigureWords& words, const std::string& more = "");
/// Units in plain letters, quoted where a comma or quote needs it.
std::string header_cell(std::string text);

}  // namespace dishwright
