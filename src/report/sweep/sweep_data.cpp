// SPDX-License-Identifier: MIT
#include "report/sweep/sweep_data.h"

#include <fmt/format.h>

#include "base/csv.h"
#include "report/numbers/json_quantity.h"
#include "report/sweep/sweep_words.h"

namespace dishwright {

Json vary_json(const std::vector<SweepAxis>& axes) {
  Json out = Json::array();
  for (const SweepAxis& axis : axes) {
    out.push_back({{"key", axis.key},
                   {"from", json_quantity({axis.values.front(), std::nullopt, axis.si_unit})},
                   {"to", json_quantity({axis.values.back(), std::nullopt, axis.si_unit})},
                   {"count", axis.values.size()}});
    if (!axis.midnight) continue;
    for (const double value : axis.values) out.back()["times"].push_back(moment_text(later(*axis.midnight, value)));
  }
  return out;
}

std::string sweep_json(const Sweep& sweep, const std::string& name) {
  Json out = json_head(sweep.scene, name);
  if (sweep.scene.is_wave()) out["source"] = sweep.scene.radio ? "radio" : "sound";
  out["target"] = sweep.target;
  out["vary"] = vary_json(sweep.axes);
  for (std::size_t k = 0; k < sweep.axes.size(); ++k) {
    const SweepAxis& axis = sweep.axes[k];
    if (axis.own) out["vary"][k]["here"] = json_quantity({*axis.own, std::nullopt, axis.si_unit});
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
  for (const ShareEdge& edge : share_edges(sweep))
    out["edges_of_90"].push_back({{"at", json_quantity({edge.at, std::nullopt, sweep.axes[0].si_unit})}, {"ends", edge.ends}});
  out["complete"] = sweep.complete;
  return json_text(out);
}

std::string sweep_csv(const Sweep& sweep, Units units) {
  std::string out;
  for (const SweepAxis& axis : sweep.axes) out += header_cell(axis_label(axis)) + ",";
  const bool waves = sweep.scene.is_wave();  // whose figures are exact
  for (const FigureRow& row : sweep_rows(sweep.scene)) {
    const FigureWords words = figure_words(sweep, std::string(row.name), units);
    out += figure_column(words) + ",";
    if (!waves) out += figure_column(words, " ±") + ",";
  }
  out += "method\n";
  for (const SweepPoint& point : sweep.points) {
    for (std::size_t a = 0; a < sweep.axes.size(); ++a) out += fmt::format("{:.10g},", axis_number(sweep.axes[a], point.at[a]));
    for (const auto& [figure, estimate] : point.figures) {
      const double scale = figure_words(sweep, figure, units).per_si;
      if (!estimate) {
        out += waves ? "," : ",,";
        continue;
      }
      out += fmt::format("{:.9g},", estimate->value * scale);
      if (waves) continue;
      if (estimate->std_error) out += fmt::format("{:.3g}", *estimate->std_error * scale);
      out += ",";
    }
    out += point.method + "\n";
  }
  return out;
}

}  // namespace dishwright
