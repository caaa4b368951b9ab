// SPDX-License-Identifier: MIT
// What it costs that the shadow's edge is taken as sharp.
#pragma once

#include "quadrature/effort.h"
#include "quadrature/setting.h"

namespace dishwright {

/// Errors that the missing half-shade makes.
struct HalfShade {
  double lit = 0;    ///< of the light that meets the mirrors, relative [1]
  double size = 0;   ///< of sizes and brightness, relative [1]
  double place = 0;  ///< of the light's middle [m]
};

/// Quick: the half-shade's share of the light times the square of the sun's width in sizes of the spot (by trial). `size` is the
/// spot's [m].
HalfShade rough_half_shade(const Scene& scene, const Setting& setting, double aperture, double size);
/// The same from four suns at √2 standard deviations of the sun about its centre, each with a sharp shadow of its own: right to
/// second order in the sun's width.
HalfShade half_shade(const Scene& scene, const Setting& setting, Effort& effort);
/// Is the half-shade outside of the shadow's edge not as large as what is light inside of it? Where the edge runs near to an edge
/// of a mirror, and where the sun looks down on a pot.
bool shade_is_lopsided(const Scene& scene, const Setting& setting);

}  // namespace dishwright
