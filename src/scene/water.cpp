// SPDX-License-Identifier: MIT
#include "scene/water.h"

#include <cmath>

namespace dishwright {

namespace {

// log10(p / mmHg) = a − b / (t / °C + c).
constexpr double antoine_a = 8.07131, antoine_b = 1730.63, antoine_c = 233.426;
constexpr double celsius_zero = 273.15, mercury_millimetre = 133.322387415;

}  // namespace

double vapour_pressure(double temperature) {
  return mercury_millimetre * std::pow(10.0, antoine_a - antoine_b / (temperature - celsius_zero + antoine_c));
}

double boiling_point(double pressure) {
  return celsius_zero + antoine_b / (antoine_a - std::log10(pressure / mercury_millimetre)) - antoine_c;
}

double heat_of_steam(double temperature) { return 2.501e6 - 2440 * (temperature - celsius_zero); }

}  // namespace dishwright
