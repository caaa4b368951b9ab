// SPDX-License-Identifier: MIT
// The mirrors of a scene as smooth patches: all that quadrature and wave sum need to know of a shape.
#pragma once

#include "scene/scene.h"
#include "shape/mirror_patch.h"

namespace dishwright {

/// The true surface of a shape, own frame: bowls u from hole to rim, v round; troughs and flats u across, v along; a patch or
/// more for each tile and petal; one for each triangle of a mesh and each straight stretch of a profile.
Patches shape_patches(const ReflectorShape& shape);
/// A patch in the frame.
MirrorPatch placed(MirrorPatch own, const Pose& pose, int reflector);
/// The patches of all mirrors, with their flaws, in the frame, in file order.
Patches mirror_patches(const Scene& scene);

}  // namespace dishwright
