// SPDX-License-Identifier: MIT
// What a mirror sends where its skin is as dull, and as bright, as such skins are met.
#pragma once

#include "base/progress.h"
#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// Sets power_range of every target in figures of the scene, where a mirror has a finish: power with all finishes at the low end
/// of their rows and at the high end, dirt as in the project. The ratio to the power as it is comes from 16,384 paths with the
/// same random numbers; it is exact where light meets one mirror once. Throws Interrupted when watch.stop is set.
void add_finish_range(const Scene& scene, int threads, const Watch& watch, TraceFigures& figures);

}  // namespace dishwright
