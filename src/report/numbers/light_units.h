// SPDX-License-Identifier: MIT
// What a scene's light is printed in: kW/m² under the sun, W/m² from a lamp in watts, lux from a lamp in lumens.
#pragma once

#include <string>

#include "base/estimate.h"
#include "scene/scene.h"

namespace dishwright {

struct LightUnits {
  std::string power = "W";              ///< also the SI unit of JSON
  std::string irradiance = "kW/m²";     ///< as people read it
  std::string in_tables = "kW/m2";      ///< the same for the headers of CSV files
  std::string si = "W/m2";              ///< of JSON and EXR; lux is lm/m2
  std::string quantity = "irradiance";  ///< "illuminance" where the light is in lumens
  double per_si = 1e-3;                 ///< printed number / SI number
  bool suns = true;                     ///< can be counted in suns
};

LightUnits light_units(const Scene& scene);

/// "52.3 ± 0.9 kW/m²", "75.2 ± 0.4 lux".
std::string irradiance_text(const Estimate& estimate, const LightUnits& units);

}  // namespace dishwright
