// SPDX-License-Identifier: MIT
// Which way a radio feed looks.
#pragma once

#include "scene/scene.h"

namespace dishwright {

/// The way a feed at `place` looks: at the vertex of the reflector, for an offset paraboloid along the bisector of the rim cone.
/// Unit; nothing where the feed stands at the vertex itself, or between the two edges of the offset dish.
Vector3 feed_axis(const Reflector& reflector, const Vector3& place);

}  // namespace dishwright
