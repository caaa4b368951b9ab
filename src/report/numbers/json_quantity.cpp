// SPDX-License-Identifier: MIT
#include "report/numbers/json_quantity.h"

#include <cmath>
#include <stdexcept>

#include "base/text.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"

namespace dishwright {

std::string json_text(const Json& json) {
  return printable_json(json.dump(2, ' ', false, Json::error_handler_t::replace)) + "\n";
}

double json_number(double value) {
  if (!std::isfinite(value)) throw std::logic_error("a figure is not a finite number");
  return value;
}

Json json_quantity(const Estimate& estimate) {
  Json out;
  out["value"] = json_number(estimate.value);
  if (estimate.std_error) out["std_error"] = json_number(*estimate.std_error);
  out["unit"] = estimate.unit;
  return out;
}

Json json_quantity(const std::optional<Estimate>& estimate) { return estimate ? json_quantity(*estimate) : Json(nullptr); }

Json json_head(const Scene& scene, const std::string& name) {
  Json out;
  out["scene"] = scene_title(scene, name);
  out["version"] = DISHWRIGHT_VERSION;
  out["scene_digest"] = scene_digest(scene);
  out["seed"] = scene.trace.seed;
  out["paths"] = scene.trace.paths;
  return out;
}

}  // namespace dishwright
