// SPDX-License-Identifier: MIT
// A short fingerprint of a scene, echoed in every output.
#pragma once

#include <string>

#include "scene/scene.h"

namespace dishwright {

/// 12 hex digits that change when any value of the scene changes. Two project files that say the same in other words or units
/// agree.
std::string scene_digest(const Scene& scene);

/// "limb-darkened", "uniform", "aureole": as in a project file.
std::string disc_word(DiscProfile profile);

}  // namespace dishwright
