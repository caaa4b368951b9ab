// SPDX-License-Identifier: MIT
#include "report/numbers/light_units.h"

#include "report/numbers/number_text.h"

namespace dishwright {

LightUnits light_units(const Scene& scene) {
  if (!scene.lamp) return {};
  if (scene.lamp->in_lumens) return {"lm", "lux", "lux", "lm/m2", "illuminance", 1, false};
  return {"W", "W/m²", "W/m2", "W/m2", "irradiance", 1, false};
}

std::string irradiance_text(const Estimate& estimate, const LightUnits& units) {
  Estimate shown{estimate.value * units.per_si, std::nullopt, units.irradiance};
  if (estimate.std_error) shown.std_error = *estimate.std_error * units.per_si;
  return number_text(shown, Units::si);
}

}  // namespace dishwright
