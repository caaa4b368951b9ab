// SPDX-License-Identifier: MIT
// What this build cannot follow by rays.
#pragma once

#include "scene/scene.h"

namespace dishwright {

/// Can this build follow light to all mirrors of the scene? Tiles and meshes need the ray tracing library.
bool can_follow(const Scene& scene);

}  // namespace dishwright
