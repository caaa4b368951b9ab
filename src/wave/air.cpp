// SPDX-License-Identifier: MIT
#include "wave/air.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr double reference_temperature = 293.15;  // 20 °C [K]

}  // namespace

double sound_speed(double temperature) { return 343.2 * std::sqrt(temperature / reference_temperature); }

double air_absorption(double frequency, const Air& air) {
  constexpr double reference_pressure = 101'325, triple_point = 273.16;
  const double warm = air.temperature / reference_temperature, press = air.pressure / reference_pressure;
  // Water vapour, per cent of molecules.
  const double saturation = std::pow(10, -6.8346 * std::pow(triple_point / air.temperature, 1.261) + 4.6151);
  const double vapour = 100 * air.humidity * saturation / press;
  // Relaxation frequencies of oxygen and nitrogen [Hz].
  const double oxygen = press * (24 + 4.04e4 * vapour * (0.02 + vapour) / (0.391 + vapour));
  const double nitrogen = press / std::sqrt(warm) * (9 + 280 * vapour * std::exp(-4.170 * (1 / std::cbrt(warm) - 1)));
  const double f2 = frequency * frequency;
  const double relaxing = 0.01275 * std::exp(-2239.1 / air.temperature) / (oxygen + f2 / oxygen) +
                          0.1068 * std::exp(-3352.0 / air.temperature) / (nitrogen + f2 / nitrogen);
  return 8.686 * f2 * (1.84e-11 / press * std::sqrt(warm) + std::pow(warm, -2.5) * relaxing);
}

double level_at(double level_at_1m, double distance, double gain, double absorption) {
  return level_at_1m + gain - 20 * std::log10(distance) - absorption * distance;
}

double distance_for_level(double level_at_1m, double wanted, double gain, double absorption) {
  double near = 1e-3, far = 1e5;
  if (level_at(level_at_1m, far, gain, absorption) >= wanted) return far;
  for (int step = 0; step < 100; ++step) {
    const double middle = std::sqrt(near * far);
    (level_at(level_at_1m, middle, gain, absorption) >= wanted ? near : far) = middle;
  }
  return near;
}

double voice_level(Voice voice) {
  switch (voice) {
    case Voice::normal: return 62.4;
    case Voice::raised: return 68.3;
    case Voice::loud: return 74.9;
    case Voice::shout: return 82.3;
  }
  return 62.4;
}

}  // namespace dishwright
