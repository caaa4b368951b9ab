// SPDX-License-Identifier: MIT
// The short almanac against ERFA, and against an independent one.
#include "sky/short_almanac.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "../known_values/read_table.h"
#include "approx.h"

using dishwright::earth_direction;
using dishwright::short_airless_sun;
using dishwright::Site;
using dishwright::SunPlace;
using dishwright::testing::off;

namespace {

constexpr double one_degree = std::numbers::pi / 180;

double apart(const SunPlace& a, double elevation, double azimuth) {
  return (earth_direction(a.elevation, a.azimuth) - earth_direction(elevation, azimuth)).norm();
}

}  // namespace

TEST_CASE("short almanac: 1000 times and places by an independent almanac within 0.01 deg") {
  const auto rows = dishwright::known::read_table("sun_places.csv");
  REQUIRE(rows.size() == 1000);
  double worst = 0;
  for (const auto& row : rows) {
    const Site site{row.at("latitude_deg") * one_degree, row.at("longitude_deg") * one_degree, row.at("altitude_m")};
    const SunPlace sun = short_airless_sun(row.at("utc_seconds"), site);
    worst = std::max(worst, apart(sun, row.at("elevation_deg") * one_degree, row.at("azimuth_deg") * one_degree));
  }
  CHECK(worst / one_degree < 0.01);
}

TEST_CASE("short almanac: within 0.006 deg of ERFA from 1950 to 2100, rms 0.0016 deg; hour angle and distance, too") {
  std::mt19937_64 random(33);
  const auto even = [&] { return static_cast<double>(random() >> 11U) * 0x1p-53; };
  double worst = 0, sum = 0, distance = 0, hours = 0;
  constexpr int times = 2000;
  for (int k = 0; k < times; ++k) {
    const double utc = (-20 + 151 * even()) * 365.25 * 86400;
    const Site site{std::asin(2 * even() - 1), (2 * even() - 1) * std::numbers::pi, 3000 * even()};
    const SunPlace full = dishwright::airless_sun(utc, site), brief = short_airless_sun(utc, site);
    const double miss = apart(brief, full.elevation, full.azimuth);
    worst = std::max(worst, miss), sum += miss * miss;
    distance = std::max(distance, off(brief.distance, full.distance));
    hours = std::max(hours, std::abs(std::remainder(brief.hour_angle - full.hour_angle, 2 * std::numbers::pi)));
  }
  CHECK(worst / one_degree < 0.006);
  CHECK(std::sqrt(sum / times) / one_degree < 0.0016);
  CHECK(hours / one_degree < 0.007);  // as seen along the equator: 1/cos 23.4 deg of it
  CHECK(distance < 1e-4);
}
