// SPDX-License-Identifier: MIT
#include "report/sweep_data.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "report/json_quantity.h"
#include "report/provenance.h"
#include "report/sweep_words.h"

namespace dishwright {

namespace {

/// Quotes where a comma or a quote asks for them (RFC 4180); units in plain letters for spreadsheets.
std::string header_cell(std::string text) {
  for (const auto& [from, to] : {std::pair<std::string, std::string>{"²", "2"}, {"°", "deg"}}) {
    for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos;) text.replace(at, from.size(), to);
  }
  if (text.find_first_of(",\"") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? "\"\"" : std::string(1, c);
  return out + "\"";
}

}  // namespace

std::string sweep_json(const Sweep& sweep, const std::string& name) {
  Json out;
  out["scene"] = sweep_title(sweep, name);
  out["version"] = DISHWRIGHT_VERSION;
  out["scene_digest"] = scene_digest(sweep.scene);
  out["seed"] = sweep.scene.trace.seed;
  out["paths"] = sweep.scene.trace.paths;
  out["target"] = sweep.target;
  out["vary"] = Json::array();
  for (const SweepAxis& axis : sweep.axes) {
    out["vary"].push_back({{"key", axis.key},
                           {"from", json_quantity({axis.values.front(), std::nullopt, axis.si_unit})},
                           {"to", json_quantity({axis.values.back(), std::nullopt, axis.si_unit})},
                           {"count", axis.values.size()}});
  }
  out["points"] = Json::array();
  for (const SweepPoint& point : sweep.points) {
    Json entry;
    entry["at"] = Json::array();
    for (std::size_t a = 0; a < sweep.axes.size(); ++a)
      entry["at"].push_back(json_quantity({point.at[a], std::nullopt, sweep.axes[a].si_unit}));
    entry["figures"] = Json::object();
    for (const auto& [figure, estimate] : point.figures) entry["figures"][figure] = json_quantity(estimate);
    entry["method"] = point.method;
    out["points"].push_back(std::move(entry));
  }
  out["complete"] = sweep.complete;
  return out.dump(2) + "\n";
}

std::string sweep_csv(const Sweep& sweep, Units units) {
  std::string out;
  for (const SweepAxis& axis : sweep.axes) out += header_cell(axis_label(axis)) + ",";
  for (const std::string& figure : sweep_figures()) {
    const FigureWords words = figure_words(sweep, figure, units);
    const std::string unit = words.unit.empty() ? "1" : words.unit;
    out += header_cell(fmt::format("{} [{}]", figure, unit)) + "," + header_cell(fmt::format("{} ± [{}]", figure, unit)) + ",";
  }
  out += "method\n";
  for (const SweepPoint& point : sweep.points) {
    for (std::size_t a = 0; a < sweep.axes.size(); ++a) out += fmt::format("{:.10g},", axis_number(sweep.axes[a], point.at[a]));
    for (const auto& [figure, estimate] : point.figures) {
      const double scale = figure_words(sweep, figure, units).per_si;
      if (!estimate) {
        out += ",,";
        continue;
      }
      out += fmt::format("{:.9g},", estimate->value * scale);
      if (estimate->std_error) out += fmt::format("{:.3g}", *estimate->std_error * scale);
      out += ",";
    }
    out += point.method + "\n";
  }
  return out;
}

}  // namespace dishwright
