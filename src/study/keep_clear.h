// SPDX-License-Identifier: MIT
// The keep-clear field: how far from the mirrors their light can hurt (decision 35).
#pragma once

#include <optional>

#include "base/progress.h"
#include "result/keep_clear.h"
#include "scene/scene.h"

namespace dishwright {

/// Lays the light of some 900 rays, with the width of their tubes and the blur of sun and skin, on planes across the frame's z from
/// the lowest mirror to where it is under one sun for good, at most 100 mirror widths away; the nearest and farthest place of each
/// level by halving, always on the far side of it. As the project is aimed. Light that goes more than 87 degrees off the z axis is
/// left out. For a smooth dish the ends are good to 2 % of their distance from the focus; widths to a 20th of the light's there.
/// Empty for lamps, sound and radio, and where no light is reflected. Throws Interrupted when watch.stop is set.
std::optional<KeepClear> keep_clear(const Scene& scene, const Watch& watch);

}  // namespace dishwright
