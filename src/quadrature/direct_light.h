// SPDX-License-Identifier: MIT
// Sunlight that falls straight on a target.
#pragma once

#include <vector>

#include "base/estimate.h"
#include "quadrature/outline.h"
#include "scene/scene.h"

namespace dishwright {

/// Beam × area × mean cosine, less what mirrors (either side) keep off along the sun's central ray [W]. `outlines` by reflector.
/// Exactly 0 where the target looks away from all of the sun.
Estimate direct_light(const Scene& scene, const std::vector<Outline>& outlines);

}  // namespace dishwright
