// SPDX-License-Identifier: MIT
#include "sky/short_almanac.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

constexpr double degree = std::numbers::pi / 180, second_of_arc = degree / 3600;

double sine(double degrees) { return std::sin(degrees * degree); }
double cosine(double degrees) { return std::cos(degrees * degree); }

/// Where the sun is among the stars of date.
struct Apparent {
  double ascension = 0, declination = 0;  ///< [rad]
  double distance = 1;                    ///< [au]
  double equinoxes = 0;                   ///< what nutation adds to sidereal time [deg]
};

/// What planets and moon add to the sun's longitude [deg], `t` in centuries of 36525 days since 1900 January 0.5.
double disturbances(double t) {
  return 0.00134 * cosine(153.23 + 22518.7541 * t) + 0.00154 * cosine(216.57 + 45037.5082 * t) +
         0.00200 * cosine(312.69 + 32964.3577 * t) + 0.00179 * sine(350.74 + 445267.1142 * t - 0.00144 * t * t) +
         0.00178 * sine(231.19 + 20.20 * t);
}

/// `t`: centuries of terrestrial time since 2000 January 1.5.
Apparent apparent_sun(double t) {
  const double anomaly = 357.52911 + 35999.05029 * t - 0.0001537 * t * t;
  const double eccentricity = 0.016708634 - 0.000042037 * t - 0.0000001267 * t * t;
  const double centre = (1.914602 - 0.004817 * t - 0.000014 * t * t) * sine(anomaly) +
                        (0.019993 - 0.000101 * t) * sine(2 * anomaly) + 0.000289 * sine(3 * anomaly);
  const double mean = 280.46646 + 36000.76983 * t + 0.0003032 * t * t;
  const double node = 125.04 - 1934.136 * t;
  const double along = (-17.20 * sine(node) - 1.32 * sine(2 * mean)) / 3600;
  const double tilt = 23.4392911 - 0.0130042 * t + (9.20 * cosine(node) + 0.57 * cosine(2 * mean)) / 3600;
  Apparent sun;
  sun.distance = 1.000001018 * (1 - eccentricity * eccentricity) / (1 + eccentricity * cosine(anomaly + centre));
  const double longitude = mean + centre + disturbances(t + 1) - 20.4898 / 3600 / sun.distance + along;
  sun.ascension = std::atan2(cosine(tilt) * sine(longitude), cosine(longitude));
  sun.declination = std::asin(sine(tilt) * sine(longitude));
  sun.equinoxes = along * cosine(tilt);
  return sun;
}

}  // namespace

SunPlace short_airless_sun(double utc_seconds, const Site& site) {
  constexpr double parallax = 8.794143 * second_of_arc;
  const double days = utc_seconds / 86400 - 10957.5;  // since 2000 January 1.5 UTC
  // Terrestrial time runs ahead by 29 s in 1950 and 69.2 s from 2017 on: 3 s are 3e-5 degree.
  const double ahead = std::min(69.184, 29.1 + 0.6 * (days / 365.25 + 50));
  const Apparent sun = apparent_sun((days + ahead / 86400) / 36525);
  const double centuries = days / 36525;
  const double sidereal =
      280.46061837 + 360.98564736629 * days + 0.000387933 * centuries * centuries + sun.equinoxes;  // at Greenwich
  const double hour = std::remainder(sidereal * degree + site.longitude - sun.ascension, 2 * std::numbers::pi);
  const double east = -std::cos(sun.declination) * std::sin(hour);
  const double north =
      std::cos(site.latitude) * std::sin(sun.declination) - std::sin(site.latitude) * std::cos(sun.declination) * std::cos(hour);
  const double up =
      std::sin(site.latitude) * std::sin(sun.declination) + std::cos(site.latitude) * std::cos(sun.declination) * std::cos(hour);
  const double elevation = std::atan2(up, std::hypot(east, north)), azimuth = std::atan2(east, north);
  SunPlace place;
  place.elevation = elevation - parallax / sun.distance * std::cos(elevation);
  place.apparent_elevation = place.elevation;
  place.azimuth = azimuth < 0 ? azimuth + 2 * std::numbers::pi : azimuth;
  place.hour_angle = hour;
  place.distance = sun.distance;
  return place;
}

}  // namespace dishwright
