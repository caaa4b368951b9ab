// SPDX-License-Identifier: MIT
#include "report/figures_json.h"

#include "report/figure_notes.h"
#include "report/json_quantity.h"
#include "report/scene_words.h"
#include "report/why.h"

namespace dishwright {

namespace {

Json target_json(const TargetFigures& target, bool lamp) {
  Json out;
  out["power"] = json_quantity(target.power);
  out["direct_power"] = json_quantity(target.direct_power);
  if (lamp) out["total_power"] = json_quantity(target.total_power);
  out["intercept"] = json_quantity(target.intercept);
  out["peak_irradiance"] = json_quantity(target.peak_irradiance);
  out["peak_concentration"] = json_quantity(target.peak_concentration);
  out["mean_irradiance"] = json_quantity(target.mean_irradiance);
  if (lamp) out["evenness"] = json_quantity(target.evenness);
  out["spot_width_50"] = json_quantity(target.spot_width_50);
  out["spot_width_90"] = json_quantity(target.spot_width_90);
  out["spot_rms_radius"] = json_quantity(target.spot_rms_radius);
  out["centroid"] = nullptr;
  if (target.centroid)
    out["centroid"] = Json::array({json_quantity((*target.centroid)[0]), json_quantity((*target.centroid)[1])});
  return out;
}

}  // namespace

std::string figures_json(const Scene& scene, const std::string& scene_name, const std::string& digest,
                         const TraceFigures& figures) {
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
  out["notes"] = scene.oddities;
  for (const std::string& note : scene.notes) out["notes"].push_back(note);
  for (std::size_t k = 0; k < figures.targets.size(); ++k) {
    for (const std::string& note : figure_notes(figures.targets[k])) out["notes"].push_back(note);
    if (const std::string note = wave_limit_note(scene, figures, k); !note.empty()) out["notes"].push_back(note);
  }
  return json_text(out);
}

}  // namespace dishwright
