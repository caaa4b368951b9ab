// SPDX-License-Identifier: MIT
// The place of the sun by a short series, for builds without ERFA, as in a browser.
#pragma once

#include "sky/sun_place.h"

namespace dishwright {

/// As airless_sun(), within 0.006 degree of ERFA from 1950 to 2100 (rms 0.0014 degree; distance to 1e-4): the short method of
/// [meeus1998], chapter 25, whose long-period, Venus, Jupiter and moon terms are those of its author's older book, from memory,
/// held against ERFA (tests/sky/short_almanac_test.cpp). Same clock: UT1 is UTC, 37 s of leap seconds from 2017 on.
SunPlace short_airless_sun(double utc_seconds, const Site& site);

}  // namespace dishwright
