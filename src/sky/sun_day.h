// SPDX-License-Identifier: MIT
// Sunrise, noon and sunset.
#pragma once

#include <optional>

#include "sky/sun_place.h"

namespace dishwright {

/// One day of the sun, by the clock of the moment that was asked for.
struct SunDay {
  Moment noon;                      ///< the sun is on the meridian
  double noon_elevation = 0;        ///< of its centre then, without air [rad]
  std::optional<Moment> rise, set;  ///< of its upper edge; empty where it does not cross the horizon on that side of noon
  bool never_up = false;            ///< polar night: not even at noon
  bool never_down = false;          ///< polar day: neither before nor after that noon
};

/// Elevation of the sun's centre without air at which its upper edge is seen to rise: half the disc, 16', and a lift of 34'
/// [meeus1998], chapter 15 [rad].
inline constexpr double rise_elevation = -0.014544410433286079;  // -50'

/// The noon next to the clock's own noon on the day of `moment`, and the sunrise and sunset next to it, to 1 s by the formula. The
/// air's lift changes from day to day; near the poles that makes minutes.
SunDay sun_day(const Moment& moment, const Site& site);

}  // namespace dishwright
