// SPDX-License-Identifier: MIT
// What a mirror looks like from far away: a hull of places of its surface, seen along a direction.
#pragma once

#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// A place on a drawing of the yard: to the right and upward [m].
struct YardPoint {
  double right = 0, up = 0;
};

/// Places of a mirror's surface, in the frame [m]; of tiles and meshes as if they lay on a bowl of their depth.
std::vector<Vector3> mirror_places(const Reflector& mirror);
/// The convex hull of places on a drawing whose axes are two unit vectors, as a polygon.
std::vector<YardPoint> seen_hull(const std::vector<Vector3>& places, const Vector3& right, const Vector3& up);

}  // namespace dishwright
