// SPDX-License-Identifier: MIT
#include "heat/air_properties.h"

#include <cmath>

namespace dishwright {

namespace {

constexpr double gas_constant = 287.05;  // of dry air [J/(kg K)]

/// Share of the gas constant that a vibration adds to the specific heat: Einstein's function.
double vibration(double characteristic, double temperature) {
  const double x = characteristic / temperature, e = std::exp(-x);
  return x * x * e / ((1 - e) * (1 - e));
}

}  // namespace

AirProperties air_properties(double temperature, double pressure) {
  constexpr double nitrogen = 0.781, oxygen = 0.2095, argon = 0.0093;  // shares of the molecules
  const double root = temperature * std::sqrt(temperature);
  AirProperties air;
  air.density = pressure / (gas_constant * temperature);
  air.specific_heat =
      gas_constant * (3.5 - argon + nitrogen * vibration(3390, temperature) + oxygen * vibration(2270, temperature));
  air.conductivity = 2.64638e-3 * root / (temperature + 245.4 * std::pow(10.0, -12 / temperature));
  air.viscosity = 1.458e-6 * root / (temperature + 110.4) / air.density;
  air.diffusivity = air.conductivity / (air.density * air.specific_heat);
  return air;
}

}  // namespace dishwright
