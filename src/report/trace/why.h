// SPDX-License-Identifier: MIT
// Plain reasons for what came out.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "study/light_story.h"

namespace dishwright {

/// One to three sentences on why a target gets what it gets: width of the spot or distance from the focus, aim, the largest loss.
/// Lengths in them are rules of thumb, two digits: sun's image 2 f tan(half angle); blur 2 × slope error × f; shift f tan(aim
/// error);
/// lamp: its width / f, times the way from vertex to target.
/// With a story also what costs the first target most, how its mirror's curve gathers, and why aim error blurs, by three rays.
std::vector<std::string> why_lines(const Scene& scene, const TraceFigures& figures, std::size_t target, Units units,
                                   const LightStory* story = nullptr);

/// Where rays are near their end: the spot is less than ten times as wide as light's own wave (550 nm) makes it on a round
/// mirror, 1.07 λ · distance/width for half of the light (Airy's disc [bornwolf]). Empty elsewhere.
std::string wave_limit_note(const Scene& scene, const TraceFigures& figures, std::size_t target);

}  // namespace dishwright
