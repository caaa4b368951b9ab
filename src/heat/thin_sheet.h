// SPDX-License-Identifier: MIT
// What light does to thin things: straw, paper, sheet metal. They have hardly any heat of their own to fill.
#pragma once

#include "heat/absorber.h"

namespace dishwright {

/// A thin level piece that is lit on one face and loses on both.
struct ThinSheet {
  double absorptance = 0.6, emittance = 0.9;  ///< [1]
  double areal_heat = 400;                    ///< heat of a square metre by one kelvin [J/(m² K)]
  double width = 0.03;                        ///< that the air meets [m]
};
/// A dry stem, halved or flat, 0.3 mm of 1000 kg/m³ and 1300 J/(kg K): common practice, no source.
ThinSheet dry_straw();

/// The temperature at which it stays in that light [W/m²] by this model [K].
double sheet_temperature(const ThinSheet& sheet, const Surroundings& around, double irradiance);
/// Time until it is so hot [s], from the temperature of the air on; empty where it never is.
std::optional<double> sheet_time(const ThinSheet& sheet, const Surroundings& around, double irradiance, double temperature);

}  // namespace dishwright
