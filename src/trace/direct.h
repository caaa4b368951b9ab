// SPDX-License-Identifier: MIT
// Sunlight that reaches a target's counted faces without a mirror.
#pragma once

#include "base/estimate.h"
#include "trace/walk.h"

namespace dishwright {

/// Power of the light that comes straight from the sun onto the counted faces of target `index` [W]: beam × area × mean of the
/// cosine, less what mirrors (either side) and other shading targets keep off. Sampled on the faces, 16 replicates of `points`
/// points.
Estimate direct_power(const TraceContext& context, int index, std::uint64_t seed, std::uint32_t points);

}  // namespace dishwright
