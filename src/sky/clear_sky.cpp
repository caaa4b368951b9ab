// SPDX-License-Identifier: MIT
#include "sky/clear_sky.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

double air_mass(double apparent_elevation) {
  const double degrees = apparent_elevation * 180 / std::numbers::pi;
  return 1 / (std::sin(apparent_elevation) + 0.50572 * std::pow(degrees + 6.07995, -1.6364));
}

double ineichen_beam(double outside, double zenith, double mass, double turbidity, double altitude) {
  const double cosine = std::max(std::cos(zenith), 0.01);
  // How the air thins out with height, up to 8000 m and up to 1250 m.
  const double high = std::exp(-altitude / 8000), low = std::exp(-altitude / 1250);
  const double scale = 5.09e-5 * altitude + 0.868, depth = 3.92e-5 * altitude + 0.0387;
  const double all_light = scale * outside * cosine * std::exp(-depth * mass * (high + low * (turbidity - 1)));
  const double beam = outside * (0.664 + 0.163 / high) * std::exp(-0.09 * mass * (turbidity - 1));
  // No more than what the light from the whole sky leaves for it.
  const double most = all_light * (1 - (0.1 - 0.2 * std::exp(-turbidity)) / (0.1 + 0.882 / high)) / cosine;
  return std::max(0.0, std::min(beam, most));
}

double laue_beam(double mass, double altitude) {
  const double share = 0.14 * altitude / 1000;
  return 1353 * ((1 - share) * std::pow(0.7, std::pow(mass, 0.678)) + share);
}

double clear_beam(const SunPlace& sun, const Site& site, const OpenAir& air, double turbidity) {
  if (sun.apparent_elevation <= 0) return 0;
  const double mass = air_mass(sun.apparent_elevation) * air.pressure / 101325;
  return ineichen_beam(solar_constant / (sun.distance * sun.distance), std::numbers::pi / 2 - sun.apparent_elevation, mass,
                       turbidity, site.altitude);
}

}  // namespace dishwright
