// SPDX-License-Identifier: MIT
#include "sky/sun_place.h"

#include <cmath>
#include <numbers>

namespace dishwright {

namespace {
constexpr double degree = std::numbers::pi / 180;
}

Vector3 earth_direction(double elevation, double azimuth) {
  return {std::cos(elevation) * std::sin(azimuth), std::cos(elevation) * std::cos(azimuth), std::sin(elevation)};
}

Vector3 SunPlace::direction() const { return earth_direction(apparent_elevation, azimuth); }

double standard_pressure(double altitude) { return 101325 * std::pow(1 - 2.25577e-5 * altitude, 5.25588); }

double refraction(double elevation, const OpenAir& air) {
  constexpr double half_disc = 0.26667, bent_at_rise = 0.5667;  // [deg], as in the source
  const double degrees = elevation / degree;
  if (degrees < -(half_disc + bent_at_rise)) return 0;
  const double lift = 1.02 / std::tan((degrees + 10.3 / (degrees + 5.11)) * degree);  // [arcmin]
  return lift * (air.pressure / 101000) * (283 / air.temperature) / 60 * degree;
}

SunPlace sun_place(const Moment& moment, const Site& site, const OpenAir& air) {
  SunPlace place = airless_sun(moment.seconds, site);
  place.apparent_elevation = place.elevation + refraction(place.elevation, air);
  return place;
}

}  // namespace dishwright
