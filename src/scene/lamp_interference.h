// SPDX-License-Identifier: MIT
// Does the lamp stand in something?
#pragma once

#include <optional>

#include "scene/scene.h"

namespace dishwright {

/// A place of the frame where the lamp meets the mirror [m]; empty where they are apart. A ball is solid: no part of the mirror
/// may lie in or on it. A disk or line may not be cut or touched by the mirror. As fine as scene/contact.h.
std::optional<Vector3> interference_place(const Reflector& reflector, const Lamp& lamp);

/// A place where the lamp meets the target [m]; empty where they are apart or only touch. A ball, pot or tube is solid, a ball
/// lamp too: neither may hold the other inside.
std::optional<Vector3> interference_place(const Target& target, const Lamp& lamp);

}  // namespace dishwright
