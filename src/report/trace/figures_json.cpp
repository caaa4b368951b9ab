// SPDX-License-Identifier: MIT
#include "report/trace/figures_json.h"

#include <algorithm>

#include "report/numbers/json_quantity.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/sky_words.h"
#include "report/trace/figure_notes.h"
#include "report/trace/why.h"
#include "result/figure_table.h"

namespace dishwright {

namespace {

Json target_json(const TargetFigures& target, bool lamp) {
  Json out;
  for (const FigureRow& row : all_figures()) {
    const bool of_all = row.of.sun && row.of.lamp;
    // What only one of sun and lamp has stands there for it alone; a peak in suns is null for a lamp.
    if (of_all || (lamp ? row.of.lamp : row.of.sun) || row.figure == Figure::peak_concentration)
      out[std::string(row.name)] = json_quantity(light_figure(target, row.figure));
  }
  out["power_range"] = nullptr;
  if (target.power_range) {
    const auto& [dull, bright] = *target.power_range;
    out["power_range"] = Json::array({json_quantity(Estimate{dull, std::nullopt, target.power.unit}),
                                      json_quantity(Estimate{bright, std::nullopt, target.power.unit})});
  }
  out["centroid"] = nullptr;
  if (target.centroid)
    out["centroid"] = Json::array({json_quantity((*target.centroid)[0]), json_quantity((*target.centroid)[1])});
  return out;
}

/// The brightest place anywhere; null where it was not looked for, or where no light is.
Json best_json(const TraceFigures& figures) {
  if (!figures.mirror_best) return nullptr;
  const MirrorBest& best = *figures.mirror_best;
  Json out;
  out["irradiance"] = json_quantity(best.irradiance);
  out["at"] = Json::array();
  for (const double one : best.at) out["at"].push_back(json_quantity(Estimate{one, std::nullopt, "m"}));
  out["from_mirror"] = json_quantity(Estimate{best.from_mirror, std::nullopt, "m"});
  out["aimed_true"] = best.aimed_true;
  return out;
}

/// The keep-clear field by level; null where it was not asked for, or where no light is.
Json keep_clear_json(const TraceFigures& figures) {
  if (!figures.keep_clear) return nullptr;
  Json out = Json::array();
  const auto metres = [](double value) { return json_quantity(Estimate{value, std::nullopt, "m"}); };
  for (const KeepClearLevel& level : figures.keep_clear->levels) {
    Json entry;
    entry["level"] = json_quantity(Estimate{level.level, std::nullopt, "W/m2"});
    for (const char* key : {"from", "to", "half_width", "half_width_x", "half_width_y"}) entry[key] = nullptr;
    if (level.passed()) {
      entry["from"] = metres(level.from), entry["to"] = level.open ? Json(nullptr) : metres(level.to);
      entry["half_width"] = metres(std::max(level.half_width_x, level.half_width_y));
      entry["half_width_x"] = metres(level.half_width_x), entry["half_width_y"] = metres(level.half_width_y);
    }
    out.push_back(std::move(entry));
  }
  return out;
}

}  // namespace

Json figures_json(const Scene& scene, const std::string& scene_name, const std::string& digest, const TraceFigures& figures) {
  Json out;
  out["scene"] = scene_title(scene, scene_name);
  out["version"] = DISHWRIGHT_VERSION;
  out["scene_digest"] = digest;
  out["seed"] = figures.seed;
  out["paths"] = figures.paths;
  out["replicates"] = figures.replicates;
  out["method"] = figures.method;
  const bool lamp = scene.lamp.has_value();
  out["beam"] = lamp ? Json(nullptr) : json_quantity(Estimate{figures.beam, std::nullopt, "W/m2"});
  if (scene.outdoors) out["sun"] = outdoors_json(*scene.outdoors);
  out["aperture_power"] = json_quantity(figures.aperture_power);
  if (lamp) out["caught_share"] = json_quantity(figures.caught_share);
  out["targets"] = Json::object();
  for (const TargetFigures& target : figures.targets) out["targets"][target.name] = target_json(target, lamp);
  out["ledger"] = Json::array();
  for (const LedgerLine& line : figures.ledger) {
    Json entry;
    entry["where"] = line.where;
    entry["power"] = json_quantity(line.power);
    out["ledger"].push_back(std::move(entry));
  }
  if (!lamp) out["mirror_best"] = best_json(figures);
  if (!lamp && figures.keep_clear) out["keep_clear"] = keep_clear_json(figures);
  out["notes"] = scene.oddities;
  for (const std::string& note : scene.notes) out["notes"].push_back(note);
  for (std::size_t k = 0; k < figures.targets.size(); ++k) {
    for (const std::string& note : figure_notes(figures.targets[k])) out["notes"].push_back(note);
    if (const std::string note = wave_limit_note(scene, figures, k); !note.empty()) out["notes"].push_back(note);
  }
  return out;
}

}  // namespace dishwright
