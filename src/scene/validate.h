// SPDX-License-Identifier: MIT
// Does the scene make sense? Checks that need more than one key; single keys are checked against the key table.
#pragma once

#include <string>
#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// Something about the scene as a whole that cannot be traced.
struct SceneProblem {
  std::string key;  ///< dotted key to point at: "reflector.dish.hole_width", "target.kettle", or "" for the whole file
  std::string what, why, fix;
};

/// All problems, in file order of the reflectors and targets: hole not narrower than its dish, bowl wider than its sphere, no
/// reflector, no target, more than 64 reflectors or 64 targets, a name used twice, things (the lamp too) farther than 10 km from
/// the frame's origin, foci of a conic the wrong way round, an ellipsoid beyond its widest place, tiles that overlap, are too
/// many or are aimed behind themselves; then, where nothing else is wrong, facing dishes that would stand in each other, targets
/// that touch a mirror, and what scene/check_light.h and scene/check_waves.h refuse.
std::vector<SceneProblem> validate_scene(const Scene& scene);

}  // namespace dishwright
