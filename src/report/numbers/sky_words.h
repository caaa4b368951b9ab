// SPDX-License-Identifier: MIT
// Where the sun is and how the dish stands on the ground, in words and as JSON.
#pragma once

#include <string>

#include "report/numbers/json_quantity.h"
#include "scene/outdoors.h"

namespace dishwright {

/// An angle [rad] in degrees to so many places: "61.2 deg".
std::string degrees_to(double radians, int places = 1);
/// An azimuth [rad, any turn] from 0 to 360 degrees with its side: "104 deg (E)".
std::string azimuth_words(double azimuth);
/// "2026-06-21 10:30 (UTC-05:00)".
std::string day_and_clock(const Moment& moment);
/// "2026-06-21 10:30 (UTC-05:00): the sun stands 52.1 deg up, at azimuth 103 deg (E). Aimed at 10:00, sun at 10:30: 6.1 deg off."
std::string outdoors_words(const Outdoors& outdoors);
/// The second sentence alone; of a mount that follows the sun "The mount follows the sun."
std::string standing_words(const Outdoors& outdoors);

/// {"time", "elevation", "apparent_elevation", "azimuth"} and, where the mount was set by another time, "aimed" and "drift".
Json outdoors_json(const Outdoors& outdoors);
/// {"elevation", "apparent_elevation", "azimuth"}; the first without the lift by the air.
Json sun_place_json(const SunPlace& sun);

}  // namespace dishwright
