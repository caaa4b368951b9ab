// SPDX-License-Identifier: MIT
#include "report/figures_json.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>

namespace dishwright {

namespace {

using Json = nlohmann::ordered_json;

double finite(double value) {
  if (!std::isfinite(value)) throw std::logic_error("a figure is not a finite number");
  return value;
}

Json quantity(const Estimate& estimate) {
  Json out;
  out["value"] = finite(estimate.value);
  if (estimate.std_error) out["std_error"] = finite(*estimate.std_error);
  out["unit"] = estimate.unit;
  return out;
}

Json quantity(const std::optional<Estimate>& estimate) { return estimate ? quantity(*estimate) : Json(nullptr); }

Json target_json(const TargetFigures& target, bool lamp) {
  Json out;
  out["power"] = quantity(target.power);
  out["direct_power"] = quantity(target.direct_power);
  if (lamp) out["total_power"] = quantity(target.total_power);
  out["intercept"] = quantity(target.intercept);
  out["peak_irradiance"] = quantity(target.peak_irradiance);
  out["peak_concentration"] = quantity(target.peak_concentration);
  out["mean_irradiance"] = quantity(target.mean_irradiance);
  if (lamp) out["evenness"] = quantity(target.evenness);
  out["spot_width_50"] = quantity(target.spot_width_50);
  out["spot_width_90"] = quantity(target.spot_width_90);
  out["spot_rms_radius"] = quantity(target.spot_rms_radius);
  out["centroid"] = nullptr;
  if (target.centroid) out["centroid"] = Json::array({quantity((*target.centroid)[0]), quantity((*target.centroid)[1])});
  return out;
}

}  // namespace

std::string figures_json(const Scene& scene, const std::string& scene_name, const std::string& digest,
                         const TraceFigures& figures) {
  Json out;
  out["scene"] = scene.title.empty() ? scene_name : scene.title;
  out["version"] = DISHWRIGHT_VERSION;
  out["scene_digest"] = digest;
  out["seed"] = figures.seed;
  out["paths"] = figures.paths;
  out["replicates"] = figures.replicates;
  out["method"] = figures.method;
  const bool lamp = scene.lamp.has_value();
  out["beam"] = lamp ? Json(nullptr) : quantity(Estimate{figures.beam, std::nullopt, "W/m2"});
  out["aperture_power"] = quantity(figures.aperture_power);
  if (lamp) out["caught_share"] = quantity(figures.caught_share);
  out["targets"] = Json::object();
  for (const TargetFigures& target : figures.targets) out["targets"][target.name] = target_json(target, lamp);
  out["ledger"] = Json::array();
  for (const LedgerLine& line : figures.ledger) {
    Json entry;
    entry["where"] = line.where;
    entry["power"] = quantity(line.power);
    out["ledger"].push_back(std::move(entry));
  }
  out["notes"] = scene.notes;
  return out.dump(2) + "\n";
}

}  // namespace dishwright
