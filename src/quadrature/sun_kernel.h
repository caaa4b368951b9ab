// SPDX-License-Identifier: MIT
// The sun's disc, smeared by what a mirror adds, in forms that are quick to evaluate.
#pragma once

#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// Rings of sunlight: tangent of the angle from the sun's centre, and share of the power through a surface that faces the centre.
struct SunRings {
  std::vector<double> tangent, share;
  double variance = 0;  ///< of the light along one axis [rad²]
  double edge = 0;      ///< largest tangent that carries light
  double total = 1;     ///< ∫ relative radiance · sin θ d(sin θ)
};
/// Gauss-Legendre rings that carry the profile of sky/disc.h to about 1e-10; `per_part` points for the disc and as many for the
/// aureole.
SunRings sun_rings(const Sun& sun, int per_part);

/// One Gaussian of a sum that stands for the sun's disc.
struct Lobe {
  double share = 1;     ///< of the power [1]; may be negative
  double variance = 0;  ///< along each axis [rad²]
  double x = 0, y = 0;  ///< its centre [rad]
};

/// Distance from its centre at which a Gaussian of this share and variance is down to e^−12.5 of a whole one's middle [rad].
double lobe_reach(double share, double variance);

/// The sun's disc as a sum of Gaussians. Smeared by Gaussians of at least `narrowest` along each axis it is the true disc to
/// `error`. So disc ⊗ Gaussian of any two widths is a sum of Gaussians whose variances add: exact for every angle of incidence.
///
/// narrowest >= narrow_lobes × half_angle: 3 to 8 concentric Gaussians of both signs (least squares of the Hankel transforms,
/// weighted with the narrowest Gaussian's). Narrower: single points of the disc, closer than 1.2 × narrowest; see NarrowKernel.
/// The shares add up to 1.
struct SunLobes {
  std::vector<Lobe> lobes;
  double error = 0;     ///< root mean square over the plane, relative to the smeared disc's own (least squares; 0 for a point)
  double variance = 0;  ///< of the sun itself along one axis [rad²]
};
constexpr double narrow_lobes = 0.3;
SunLobes sun_lobes(const Sun& sun, double narrowest);

/// Disc ⊗ a round Gaussian of σ = `spread` [rad, may be 0], per tangent plane area, by distance from the centre: a table.
struct RoundKernel {
  float per_step = 0;        ///< table steps per unit of tangent
  float edge = 0;            ///< beyond this tangent there is nothing
  std::vector<float> table;  ///< density [1/rad²]; two zeros at the end
  double variance = 0;       ///< of the sun itself along one axis [rad²]
  double error = 0;          ///< what a sharp edge costs sums over cells, relative [1]
};
RoundKernel round_kernel(const Sun& sun, double spread);

}  // namespace dishwright
