// SPDX-License-Identifier: MIT
#include "report/numbers/figure_words.h"

#include <fmt/format.h>

#include <numbers>
#include <utility>

#include "base/csv.h"
#include "report/numbers/light_units.h"

namespace dishwright {

FigureWords figure_words(const FigureRow& row, const Scene& scene, bool band, Units units) {
  FigureWords words{std::string(row.name), with_outline(row.label, band), "", 1};
  const LightUnits light = light_units(scene);
  switch (row.kind) {
    case FigureKind::power: words.unit = light.power; break;
    case FigureKind::irradiance: words.unit = light.irradiance, words.per_si = light.per_si; break;
    case FigureKind::concentration: words.unit = "suns"; break;
    case FigureKind::share: words.unit = "%", words.per_si = 100; break;
    case FigureKind::ratio: break;
    case FigureKind::length: words.unit = length_unit(units), words.per_si = lengths_per_metre(units); break;
    case FigureKind::level: words.unit = row.figure == Figure::gain && scene.radio ? "dBi" : "dB"; break;
    case FigureKind::angle: words.unit = "deg", words.per_si = 180 / std::numbers::pi; break;
  }
  return words;
}

std::string header_cell(std::string text) {
  for (const auto& [from, to] : {std::pair<std::string, std::string>{"²", "2"}, {"°", "deg"}}) {
    for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos;) text.replace(at, from.size(), to);
  }
  return csv_text(text);
}

std::string figure_column(const FigureWords& words, const std::string& more) {
  return header_cell(fmt::format("{}{} [{}]", words.name, more, words.unit.empty() ? "1" : words.unit));
}

}  // namespace dishwright
