// SPDX-License-Identifier: MIT
// A scene with one thing put wrong, for tolerances of light and of waves.
#pragma once

#include <array>
#include <optional>

#include "scene/scene.h"

namespace dishwright {

/// A scene that makes sense, or none.
std::optional<Scene> sensible(Scene scene);
/// Makes the focal length longer by this factor; false for a shape that has none.
bool scale_focal_length(ReflectorShape& shape, double factor);
/// Makes a target this wide [m], as long and as high as it is; a point stays one.
void set_width(TargetShape& shape, double width);
/// The scene with its target shifted [m], in the axes of the first reflector.
Scene shifted(Scene scene, std::size_t target, const Vector3& by);
/// From the vertex of the first reflector [m].
double distance_to_target(const Scene& scene, std::size_t target);

/// The ways that a target can be off its place.
struct OffsetSide {
  const char *key, *name;
  Vector3 way;  ///< unit, in the axes of the first reflector
};
const std::array<OffsetSide, 6>& offset_sides();

}  // namespace dishwright
