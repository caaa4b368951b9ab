// SPDX-License-Identifier: MIT
// Reflectors as surfaces.
#pragma once

#include "trace/scene_surfaces.h"

namespace dishwright {

/// Surface, region and box of a reflector in its own frame; with flaws a height over a plane.
Surface mirror_surface_of(const Reflector& reflector);

}  // namespace dishwright
