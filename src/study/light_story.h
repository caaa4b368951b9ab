// SPDX-License-Identifier: MIT
// What stands behind the figures of a scene of sunlight: a cut to look at, and what costs the light.
#pragma once

#include <optional>

#include "study/causes.h"
#include "study/side_view.h"

namespace dishwright {

struct LightStory {
  SideView view;
  Causes causes;
};

/// Of a scene with a sun; empty for others. Throws Interrupted when watch.stop is set.
inline std::optional<LightStory> light_story(const Scene& scene, int threads, const Watch& watch) {
  if (scene.is_wave() || scene.lamp) return std::nullopt;
  return LightStory{side_view(scene), find_causes(scene, threads, watch)};
}

}  // namespace dishwright
