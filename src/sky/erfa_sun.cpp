// SPDX-License-Identifier: MIT
#include <erfa.h>
#include <erfam.h>

#include <chrono>
#include <cmath>
#include <stdexcept>

#include "sky/sun_place.h"

namespace dishwright {

namespace {

struct JulianDate {
  double whole = 0, part = 0;
};

/// ERFA's two-part UTC of so many seconds since 1970.
JulianDate utc_date(double utc_seconds) {
  const double days = std::floor(utc_seconds / ERFA_DAYSEC);
  const std::chrono::year_month_day day{std::chrono::sys_days(std::chrono::days(static_cast<int>(days)))};
  double rest = utc_seconds - days * ERFA_DAYSEC;
  const int hour = std::min(23, static_cast<int>(rest / 3600));
  rest -= 3600.0 * hour;
  const int minute = std::min(59, static_cast<int>(rest / 60));
  JulianDate date;
  // Above 0 are warnings: years before UTC or beyond the last known leap second.
  if (eraDtf2d("UTC", static_cast<int>(day.year()), static_cast<int>(static_cast<unsigned>(day.month())),
               static_cast<int>(static_cast<unsigned>(day.day())), hour, minute, rest - 60.0 * minute, &date.whole,
               &date.part) < 0)
    throw std::logic_error("a moment outside of the calendar");
  return date;
}

/// Terrestrial time, on which the earth's path is told.
JulianDate terrestrial_date(const JulianDate& utc) {
  JulianDate tai, terrestrial;
  if (eraUtctai(utc.whole, utc.part, &tai.whole, &tai.part) < 0 ||
      eraTaitt(tai.whole, tai.part, &terrestrial.whole, &terrestrial.part) < 0)
    throw std::logic_error("a moment outside of the calendar");
  return terrestrial;
}

/// Unit vector to the sun from the earth's centre, in the celestial intermediate frame of date; and the way there [au].
struct Geocentric {
  double to_sun[3];
  double distance = 1;
};

Geocentric geocentric_sun(const JulianDate& date) {
  double earth_from_sun[2][3], earth[2][3];
  eraEpv00(date.whole, date.part, earth_from_sun, earth);  // dynamical time is 2 ms from terrestrial time at most
  // Light left the sun earlier: the sun's own way since then, about the centre of all masses.
  double to_sun[3];
  const double distance = eraPm(earth_from_sun[0]);
  const double light_days = distance * ERFA_AULT / ERFA_DAYSEC;
  for (int k = 0; k < 3; ++k) to_sun[k] = -earth_from_sun[0][k] - light_days * (earth[1][k] - earth_from_sun[1][k]);
  Geocentric out;
  double unit[3];
  eraPn(to_sun, &out.distance, unit);
  // The earth's own speed turns the light.
  double speed[3], turned[3];
  for (int k = 0; k < 3; ++k) speed[k] = earth[1][k] / (ERFA_DAYSEC / ERFA_AULT);
  eraAb(unit, speed, distance, std::sqrt(1 - eraPdp(speed, speed)), turned);
  double to_date[3][3];
  eraC2i06a(date.whole, date.part, to_date);
  eraRxp(to_date, turned, out.to_sun);
  return out;
}

}  // namespace

double sun_place_error() { return 5.2e-5; }

SunPlace airless_sun(double utc_seconds, const Site& site) {
  constexpr double parallax = 8.794143 * ERFA_DAS2R;  // of the sun at 1 au, seen from the equator
  const JulianDate utc = utc_date(utc_seconds);
  const Geocentric sun = geocentric_sun(terrestrial_date(utc));
  double ascension = 0, declination = 0;
  eraC2s(const_cast<double*>(sun.to_sun), &ascension, &declination);
  double azimuth = 0, zenith = 0, hour_angle = 0, seen_declination = 0, seen_ascension = 0;
  // No polar motion (0.3"), no pressure: the air is put on by refraction().
  if (eraAtio13(ascension, declination, utc.whole, utc.part, 0, site.longitude, site.latitude, site.altitude, 0, 0, 0, 0, 0, 0.55,
                &azimuth, &zenith, &hour_angle, &seen_declination, &seen_ascension) < 0)
    throw std::logic_error("a moment outside of the calendar");
  SunPlace place;
  const double elevation = ERFA_DPI / 2 - zenith;
  place.elevation = elevation - parallax / sun.distance * std::cos(elevation);
  place.apparent_elevation = place.elevation;
  place.azimuth = eraAnp(azimuth);
  place.hour_angle = eraAnpm(hour_angle);
  place.distance = sun.distance;
  return place;
}

}  // namespace dishwright
