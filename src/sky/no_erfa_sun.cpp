// SPDX-License-Identifier: MIT
// Stands for erfa_sun.cpp where that library is not there, as in a browser.
#include "base/error.h"
#include "sky/sun_place.h"

namespace dishwright {

bool knows_sun_place() { return false; }

SunPlace airless_sun(double /*utc_seconds*/, const Site& /*site*/) {
  throw InputError("the place of the sun cannot be worked out here", "the browser has no almanac",
                   "run `dishwright page`, which works it out, or give aim_error and aim_direction instead of a time");
}

}  // namespace dishwright
