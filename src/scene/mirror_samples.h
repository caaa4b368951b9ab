// SPDX-License-Identifier: MIT
// A few places of each mirror, to look at a scene roughly.
#pragma once

#include <vector>

#include "scene/scene.h"

namespace dishwright {

struct MirrorPlace {
  Vector3 place, normal;  ///< in the frame [m]; unit, on the bright side
};

/// Up to about 1000 places spread over the whole mirror: a grid over each patch, or one place a tile or triangle, of very many a
/// part. `rim`: the grid reaches the edges of the patches (and takes corners of triangles); else it keeps inside. Flaws are left
/// out.
std::vector<MirrorPlace> mirror_samples(const Reflector& reflector, bool rim);

}  // namespace dishwright
