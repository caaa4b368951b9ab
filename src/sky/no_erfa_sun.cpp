// SPDX-License-Identifier: MIT
// Stands for erfa_sun.cpp where that library is not there, as in a browser.
#include "sky/short_almanac.h"

namespace dishwright {

double sun_place_error() { return 1.05e-4; }

SunPlace airless_sun(double utc_seconds, const Site& site) { return short_airless_sun(utc_seconds, site); }

}  // namespace dishwright
