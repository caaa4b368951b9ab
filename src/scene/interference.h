// SPDX-License-Identifier: MIT
// Does a target stick in a mirror?
#pragma once

#include <optional>

#include "scene/scene.h"

namespace dishwright {

/// A place of the frame where the mirror meets the target [m]; empty where they are apart. A ball, pot or tube is taken as solid:
/// no part of the mirror may lie in or on it; a disk or rectangle may not be cut or touched by the mirror. Sought on a grid of 96
/// steps over that part of the mirror that is within the target's reach, so a graze shallower than about 1/100 of the target's
/// size can pass.
std::optional<Vector3> interference_place(const Reflector& reflector, const Target& target);

/// Height of a place of the frame over the mirror, along the own z of the mirror, tile or triangle that is there [m]; empty where
/// none is.
std::optional<double> height_above(const Reflector& reflector, const Vector3& place);

/// Where the straight line between two places of the frame goes through the mirror or ends on it [m]; empty where it does not. A
/// bowl is looked at in 400 steps along the line.
std::optional<Vector3> crossing_place(const Reflector& reflector, const Vector3& from, const Vector3& to);

/// Does a place of the frame lie in a ball, tube (as if its ends were closed) or pot?
bool is_inside(const Target& target, const Vector3& place);

}  // namespace dishwright
