// SPDX-License-Identifier: MIT
#include "report/compare/compare_data.h"

#include <fmt/format.h>

#include "base/csv.h"
#include "report/compare/compare_verdict.h"
#include "report/compare/compare_widths.h"
#include "report/numbers/figure_words.h"
#include "report/numbers/json_quantity.h"
#include "report/numbers/provenance.h"
#include "report/trace/figures_json.h"

namespace dishwright {

namespace {

Json length(double metres) { return json_quantity({metres, std::nullopt, "m"}); }

Json best_place_json(const BestPlace& best) {
  Json out;
  out["place"] = json_quantity(best.place);
  out["searched"] = Json::array({length(best.from), length(best.to)});
  out["even"] = Json::array({length(best.even_from), length(best.even_to)});
  out["flat"] = best.flat;
  out["at_edge"] = best.at_edge;
  out["dark"] = best.dark;
  return out;
}

Json scene_json(const Contestant& one, const std::string& name) {
  Json out = figures_json(one.scene, name, scene_digest(one.scene), one.figures);
  if (!one.rule.empty()) out["title"] = out["scene"], out["rule"] = one.rule;
  out["scene"] = one.name;
  if (!one.read_digest.empty()) out["read_digest"] = one.read_digest;
  if (has_widths(one)) out["width_for_90"] = json_quantity(width_for_most(one));
  if (one.best) out["best_place"] = best_place_json(*one.best);
  return out;
}

}  // namespace

std::string compare_json(const Comparison& all, const std::string& name) {
  Json out;
  out["scenes"] = Json::array();
  for (const Contestant& one : all.contestants) out["scenes"].push_back(scene_json(one, name));
  out["differences"] = Json::array();
  for (const PairDifference& pair : all.differences) {
    Json entry;
    entry["a"] = all.contestants[pair.a].name;
    entry["b"] = all.contestants[pair.b].name;
    entry["figure"] = pair.figure;
    entry["difference"] = json_quantity(pair.difference);
    out["differences"].push_back(std::move(entry));
  }
  out["verdict"] = verdict(all);
  // Who stand first: several where they tie.
  const Ranking ranking = rank_by_share(all);
  out["first"] = Json::array();
  for (std::size_t i = 0; i < ranking.alike && ranked_share(all.contestants[ranking.order[0]]).value > 0; ++i)
    out["first"].push_back(all.contestants[ranking.order[i]].name);
  return json_text(out);
}

std::string compare_csv(const Comparison& all, Units units) {
  const Scene& scene = all.contestants.front().scene;
  std::string out = "scene,target";
  for (const FigureRow& row : compared_rows(FigureSource::light)) {
    const FigureWords words = figure_words(row, scene, false, units);
    out += "," + figure_column(words) + "," + figure_column(words, " ±");
  }
  out += "\n";
  for (const Contestant& one : all.contestants) {
    for (const TargetFigures& target : one.figures.targets) {
      out += csv_text(one.name) + "," + csv_text(target.name);
      for (const FigureRow& row : compared_rows(FigureSource::light)) {
        const auto figure = light_figure(target, row.figure);
        const double scale = figure_words(row, scene, false, units).per_si;
        out += figure ? fmt::format(",{:.9g},", figure->value * scale) : ",,";
        if (figure && figure->std_error) out += fmt::format("{:.3g}", *figure->std_error * scale);
      }
      out += "\n";
    }
  }
  return out;
}

}  // namespace dishwright
