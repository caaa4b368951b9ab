// SPDX-License-Identifier: MIT
// The words of caution that a computed brightness calls for. Never a promise of safety or of a temperature.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "result/figures.h"

namespace dishwright {

/// Steps of irradiance at which the words change.
enum class HeatLevel {
  mild,  ///< below 1.58 kW/m²
  /// 1.58 kW/m² and up: the most that clothed workers may stand in for long, 500 Btu/(h ft²) [api521]
  pain,
  /// 4.73 kW/m² and up: a few minutes of emergency work, clothed, 1500 Btu/(h ft²) [api521]; wood ignited at 4.3 kW/m² in one
  /// study [babrauskas2001]
  burn,
  severe,   ///< 10 kW/m² and up: severe burns in seconds, normal clothing may ignite [hymes1983]
  ignition  ///< 20 kW/m² and up: lower bound of codes for wood to catch fire without a flame near [h2tools_flux]
};

/// Level of an irradiance [W/m²].
HeatLevel heat_level(double irradiance);

/// Time to a second-degree burn of bare skin [s] at an irradiance [W/m²] > 0: t = (50.2 / q)^(1/0.7063), q in kW/m²
/// [stoll1969], as a power law. Measured for about 1 … 30 s, 50 … 4.5 kW/m²; beyond these it is
/// a guess. Leaves out clothing, movement, and that a small spot heats less skin.
double burn_time(double irradiance);

/// "3400 kW/m²" of an irradiance [W/m²], and its number alone: no more digits than such figures are worth.
std::string brightness_text(double irradiance);
std::string kilowatts(double irradiance);

/// Light that ends on no target, back or lid [W]: the ledger's line "missed".
double missed_power(const TraceFigures& figures);

/// What decides how a scene is to be handled [W/m²]: the brightest of what lands on a target and of what its mirrors can do
/// anywhere.
double danger(const TraceFigures& figures);
/// What that much light can do, in one or two sentences. Of a lamp: dazzle.
std::string danger_words(const TraceFigures& figures);
/// How to work with it: the short list below 1.58 kW/m² where it is known that the mirrors do no more anywhere and no more than
/// 20 W miss; else the whole one. Of a lamp: dazzle, heat, wet places, and the sun by day.
std::vector<std::string> safety_list(const TraceFigures& figures);

/// A few lines (at most 80 characters wide) for the screen: what the light can do anywhere and on the targets, what misses, the
/// first rules; `list` says where the whole list is ("safety.pdf has the whole list.").
std::string caution(const TraceFigures& figures, const std::string& list);

/// One sentence of the same for the foot of a picture.
std::string caution_line(const TraceFigures& figures);

}  // namespace dishwright
