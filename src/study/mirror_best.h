// SPDX-License-Identifier: MIT
// The brightest that a scene's mirrors can make sunlight anywhere: what a hand, a sleeve or a dry leaf may meet, whatever the
// target gets.
#pragma once

#include <optional>

#include "base/progress.h"
#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// Follows a few thousand rays of the sun's middle off every mirror, the targets taken away, and looks along the mean way of the
/// light for the plane on which they lie closest, each spread by the blur of sun, slope error and skin. There a plate is put,
/// square to the light, and traced (by quadrature where that applies, else 131,072 rays with the scene's seed). As the project is
/// aimed, and aimed true; the brighter of the two. Looks from a hundredth of the mirror's size to 100 times as far.
/// Empty for lamps, sound and radio, and where no light is reflected. Throws Interrupted when watch.stop is set. watch.done is
/// left as it was.
std::optional<MirrorBest> mirror_best(const Scene& scene, int threads, const Watch& watch);

}  // namespace dishwright
