// SPDX-License-Identifier: MIT
// Bumps by chance: the random surface of a hand-built skin, the same one for the same seed.
#pragma once

#include <cstdint>

#include "shape/height_grid.h"
#include "shape/plan_outline.h"

namespace dishwright {

/// What a random surface is drawn from.
struct Roughness {
  double rms = 0;          ///< of the half-path error along the axis [m]: height error × (cosine of incidence)²
  double correlation = 0;  ///< c: two places r apart agree as exp(−r²/c²) [m]
  std::uint64_t seed = 1;  ///< the same seed gives the same dish
};

/// Half-path errors over a plan, with slopes, on a grid of c/6: 128 plane waves of random phase, their wave numbers spread as the
/// normal law of variance 2/c² along each axis asks [longuethiggins1957, sec. 2.1], all around. Then the mean over the plan is
/// taken off and the rms made exact, so that each single dish has the stated rms. So c is meant to be well below the width.
HeightGrid random_half_paths(const Roughness& roughness, const PlanOutline& plan);

}  // namespace dishwright
