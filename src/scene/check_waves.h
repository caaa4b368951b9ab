// SPDX-License-Identifier: MIT
// Do the places where things stand make sense to sound and radio?
#pragma once

#include <string>
#include <vector>

#include "scene/validate.h"

namespace dishwright {

/// What no wave sum can answer: a source, microphone or feed that touches a mirror; sound that comes from the very place of a
/// target; a feed that has nowhere to look; and a target that sees only the other side of every mirror than the one that the wave
/// meets, so that just the waves round the rims, which are left out, would reach it. Nothing for a scene of light.
std::vector<SceneProblem> wave_problems(const Scene& scene);

/// From a place to the nearest mirror, about [m]; the true shapes, without flaws.
double distance_to_mirrors(const Scene& scene, const Vector3& place);

/// What can be computed and is odd, in sentences to be read before the figures: mirrors met from their backs, or seen for a small
/// part only; a microphone so near a mirror that what is left out counts; sound from beside the microphone.
std::vector<std::string> odd_waves(const Scene& scene);

}  // namespace dishwright
