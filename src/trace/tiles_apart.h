// SPDX-License-Identifier: MIT
// Can the tiles of a mirror stand in each other's light?
#pragma once

#include "trace/scene_surfaces.h"

namespace dishwright {

/// True if no ray within an angle of tangent `spread` of the direction `sun` (own frame, unit vector) meets two of the tiles.
///
/// Places a, b of two tiles lie on one such ray only if, seen from the sun, they are no farther apart than |height of b over a| ·
/// spread. So two tiles are proved apart where their outlines, seen from the sun, lie farther apart than their largest difference
/// of height · spread. A round tile counts as a circle or as the octagon round it. False where that proves nothing: the tiles may
/// yet be apart.
bool tiles_apart(const Surface& surface, const Vector3& sun, double spread);

}  // namespace dishwright
