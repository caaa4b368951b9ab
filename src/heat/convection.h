// SPDX-License-Identifier: MIT
// How well moving air carries heat away: Nusselt numbers of plates, cylinders and spheres. Each is a fit to measurements, good to
// some 20 % (common practice). Rayleigh, Reynolds and Nusselt numbers are by the length that is named; air at the mean of the two
// temperatures unless said.
#pragma once

namespace dishwright {

// ---- Free convection ----
/// Upright plate, by its height; all Rayleigh numbers to 1e12: [churchill1975plate], eq. 9.
double nusselt_upright_plate(double rayleigh, double prandtl);
/// Level cylinder, by its diameter; to 1e12: [churchill1975cylinder].
double nusselt_level_cylinder(double rayleigh, double prandtl);
/// Sphere, by its diameter; to 1e11, Prandtl >= 0.7: [churchill1983], with its turbulent part.
double nusselt_sphere(double rayleigh, double prandtl);
/// Level plate, warmer than the air and facing up (or cooler and facing down), by area over perimeter: [mcadams1954]; the larger
/// of the laws for 1e4 … 1e7 and 1e7 … 1e11, which cross at 5e6, so that nothing jumps.
double nusselt_plate_up(double rayleigh);
/// The same facing down (cooler: up); 1e5 … 1e10: [mcadams1954].
double nusselt_plate_down(double rayleigh);

// ---- Wind ----
/// Cylinder across the wind, by its diameter; Reynolds times Prandtl > 0.2: [churchill1977].
double nusselt_cylinder_in_wind(double reynolds, double prandtl);
/// Sphere, by its diameter; 3.5 … 7.6e4: [whitaker1972]; air at its own temperature. `viscosity_ratio`: dynamic viscosity of the
/// air far away over that at the wall.
double nusselt_sphere_in_wind(double reynolds, double prandtl, double viscosity_ratio);
/// Plate along the wind, by its length: Blasius' and Pohlhausen's law for the smooth flow, and behind 5e5 the mixed one, both
/// as in [incropera].
double nusselt_plate_in_wind(double reynolds, double prandtl);

/// Both at once: the cube root of the sum of the cubes, as [incropera] advises where wind and rise help each other or cross.
double nusselt_blend(double free, double wind);

}  // namespace dishwright
