// SPDX-License-Identifier: MIT
// Flat pictures of target faces: which face, what its axes are, how large its bins.
#pragma once

#include <vector>

#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// Layouts of a target's counted faces, in the order of its faces; irradiance still empty. `fine` is the width that should span
/// about 24 bins (0 = no wish) [m].
std::vector<MapFace> target_faces(const TargetShape& shape, double fine);

}  // namespace dishwright
