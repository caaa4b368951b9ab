// SPDX-License-Identifier: MIT
#include "heat/convection.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

/// (1 + (c / Pr)^(9/16)), the way in which Churchill and his colleagues blend small and large Prandtl numbers.
double churchill_blend(double constant, double prandtl) { return 1 + std::pow(constant / prandtl, 9.0 / 16); }

double squared_law(double start, double rayleigh, double blend) {
  const double root = start + 0.387 * std::pow(rayleigh, 1.0 / 6) / std::pow(blend, 8.0 / 27);
  return root * root;
}

}  // namespace

double nusselt_upright_plate(double rayleigh, double prandtl) {
  return squared_law(0.825, rayleigh, churchill_blend(0.492, prandtl));
}

double nusselt_level_cylinder(double rayleigh, double prandtl) {
  return squared_law(0.60, rayleigh, churchill_blend(0.559, prandtl));
}

double nusselt_sphere(double rayleigh, double prandtl) {
  const double blend = churchill_blend(0.469, prandtl);
  const double turbulent = std::pow(1 + 7.44e-8 * rayleigh / std::pow(blend, 16.0 / 9), 1.0 / 12);
  return 2 + 0.589 * std::pow(rayleigh, 0.25) / std::pow(blend, 4.0 / 9) * turbulent;
}

double nusselt_plate_up(double rayleigh) { return std::max(0.54 * std::pow(rayleigh, 0.25), 0.15 * std::cbrt(rayleigh)); }

double nusselt_plate_down(double rayleigh) { return 0.27 * std::pow(rayleigh, 0.25); }

double nusselt_cylinder_in_wind(double reynolds, double prandtl) {
  const double blend = std::pow(1 + std::pow(0.4 / prandtl, 2.0 / 3), 0.25);
  const double turbulent = std::pow(1 + std::pow(reynolds / 282000, 0.625), 0.8);
  return 0.3 + 0.62 * std::sqrt(reynolds) * std::cbrt(prandtl) / blend * turbulent;
}

double nusselt_sphere_in_wind(double reynolds, double prandtl, double viscosity_ratio) {
  return 2 + (0.4 * std::sqrt(reynolds) + 0.06 * std::pow(reynolds, 2.0 / 3)) * std::pow(prandtl, 0.4) *
                 std::pow(viscosity_ratio, 0.25);
}

double nusselt_plate_in_wind(double reynolds, double prandtl) {
  constexpr double turning = 5e5;
  const double law = reynolds < turning ? 0.664 * std::sqrt(reynolds) : 0.037 * std::pow(reynolds, 0.8) - 871;
  return law * std::cbrt(prandtl);
}

double nusselt_blend(double free, double wind) { return std::cbrt(free * free * free + wind * wind * wind); }

}  // namespace dishwright
