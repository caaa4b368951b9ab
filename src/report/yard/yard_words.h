// SPDX-License-Identifier: MIT
// Lengths, winds and rules of the yard in words.
#pragma once

#include <string>
#include <vector>

#include "base/vector.h"
#include "report/numbers/number_text.h"
#include "result/figures.h"

namespace dishwright {

/// A distance of the yard [m] to a whole inch or centimetre: "21 in", "3 ft 10 in", "46 cm", "1.17 m"; `up`: rounded up, else down.
std::string yard_text(double metres, Units units, bool up);
/// The same to the nearest.
std::string yard_text(double metres, Units units);

/// Push of the wind on a dish [N]: F = 1/2 rho v^2 Cd A with rho = 1.2 kg/m3 and a drag coefficient of 1.4 (common practice, no
/// source), v in m/s, A in m². An order of magnitude.
double wind_push(double area, double wind);
/// "Wind: about 10 lb (44 N) in 15 mph, four times that in a gust of 30 mph (F = …)."
std::string wind_words(double area);
/// Area that a scene's mirrors turn to the sun [m²].
double dish_area(const TraceFigures& figures);

/// How to leave a dish, as a list.
std::vector<std::string> store_list();
/// Why distance does not save eyes.
std::string eye_words();

}  // namespace dishwright
