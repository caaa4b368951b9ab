// SPDX-License-Identifier: MIT
// Where the sun stands over a place on the earth. Azimuths run clockwise from true north; elevations are above the horizon.
#pragma once

#include "base/vector.h"
#include "sky/moment.h"

namespace dishwright {

/// A place on the earth (WGS 84).
struct Site {
  double latitude = 0;   ///< north of the equator [rad], -π/2 … π/2
  double longitude = 0;  ///< east of Greenwich [rad], -π … π
  double altitude = 0;   ///< above the sea [m]
};

/// The air that bends the light on its way in.
struct OpenAir {
  double pressure = 101325;     ///< where the dish stands [Pa]
  double temperature = 293.15;  ///< [K]
};

struct SunPlace {
  double elevation = 0;           ///< of the sun's centre as if there were no air [rad]
  double apparent_elevation = 0;  ///< as it is seen, and as a dish must be aimed [rad]
  double azimuth = 0;             ///< [rad], 0 … 2π
  double hour_angle = 0;          ///< past the meridian [rad], -π … π
  double distance = 1;            ///< from the earth [au]
  /// Unit vector toward where it is seen: x east, y north, z up.
  Vector3 direction() const;
};

/// Pressure at an altitude [Pa], altitude in m, -500 … 11 000: standard atmosphere [iso2533].
double standard_pressure(double altitude);

/// Lift by the air of a body at this elevation without air [rad]: [reda2004], eq. 42, whose source is [meeus1998], eq. 16.4. Good
/// to 0.1' from the horizon up, at mean air; 0 where the whole sun is below the horizon.
double refraction(double elevation, const OpenAir& air);

/// The place of the sun's centre: the earth's place and speed (epv00), light time, aberration, precession and nutation (IAU
/// 2006/2000A), the turn of the earth, all by ERFA [erfa]; parallax of 8.794". Within 0.01 degree from 1950 to 2100. UT1 is taken
/// for UTC, which is at most 0.9 s or 0.004 degree off as long as leap seconds are kept; behind the last known leap second
/// ERFA's last count stays. A build without ERFA, as for a browser, has a short almanac in its place (short_almanac.h).
SunPlace sun_place(const Moment& moment, const Site& site, const OpenAir& air);

/// By how much a place of this build is off at most [rad], from 1950 to 2100: 0.003 degree by ERFA, 0.006 by the short almanac.
double sun_place_error();

/// The same without air: apparent_elevation is that of the body without air. One of two sources, with and without ERFA.
SunPlace airless_sun(double utc_seconds, const Site& site);

/// Unit vector toward an azimuth and elevation [rad]: x east, y north, z up.
Vector3 earth_direction(double elevation, double azimuth);

}  // namespace dishwright
