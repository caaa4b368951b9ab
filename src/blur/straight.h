// SPDX-License-Identifier: MIT
// Sunlight that falls straight on the front of a target.
#pragma once

#include "base/estimate.h"
#include "scene/scene.h"

namespace dishwright {

/// Beam × area × mean cosine, less what mirrors (either side) keep off along the sun's central ray [W]. Exactly 0 where the front looks
/// away from all of the sun.
Estimate straight_power(const Scene& scene, const Target& target);

}  // namespace dishwright
