// SPDX-License-Identifier: MIT
// Does a target stick in a mirror?
#pragma once

#include <optional>

#include "scene/scene.h"

namespace dishwright {

/// A place of the frame where the mirror meets the target [m]; empty where they are apart. A ball, pot or tube is taken as solid: no part of the
/// mirror may lie in or on it; a disk or rectangle may not be cut or touched by the mirror. Sought on a grid of 96 steps over that part of the
/// mirror that is within the target's reach, so a graze shallower than about 1/100 of the target's size can pass.
std::optional<Vector3> meeting_place(const Reflector& reflector, const Target& target);

/// Does a place of the frame lie in a ball, tube (as if its ends were closed) or pot?
bool is_inside(const Target& target, const Vector3& place);

}  // namespace dishwright
