// SPDX-License-Identifier: MIT
// Single rays followed without chance: what a student draws with a ruler.
#pragma once

#include <string>
#include <vector>

#include "trace/geometry.h"

namespace dishwright {

/// Where a ray ends.
enum class SightEnd {
  counted,    ///< on a face of a target that counts, from its front
  uncounted,  ///< on a lid or a back, or still bouncing after 64 reflections
  shaded,     ///< a target caught it on its way in
  missed      ///< it leaves the scene, after a reflection or without one
};

/// One ray from the middle of the sun's disc, reflected by the true surface: no slope error, no spread of the skin.
struct SightRay {
  std::vector<Vector3> way;  ///< start on the sun side, each place where it is reflected, its end; a ray that leaves the scene
                             ///< has no end, only `direction` [m]
  Vector3 direction;         ///< unit direction of its last flight
  std::vector<int> mirrors;  ///< reflector at each reflection
  std::vector<unsigned> element;  ///< which tile, petal or triangle of each mirror that it meets
  int met = -1;                   ///< the mirror that it meets first, on its bright side or its back; −1 = none
  SightEnd end = SightEnd::missed;
  int target = -1;                   ///< that it ends on, −1 = none
  int face = -1;                     ///< of that target
  Vector3 landed = Vector3::Zero();  ///< its end in the target's own frame [m]
  bool reflected() const { return !mirrors.empty(); }
};

/// Follows the sun's light through each of the places [m]. Of a scene with a sun. At most 64 reflections a ray.
std::vector<SightRay> sight_rays(const Scene& scene, const SceneGeometry& geometry, const std::vector<Vector3>& through);

}  // namespace dishwright
