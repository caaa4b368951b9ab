// SPDX-License-Identifier: MIT
// The answer of a trace as text for a terminal.
#pragma once

#include <string>

#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "study/light_story.h"

namespace dishwright {

/// What was traced, what each target gets with a small picture, where the light went, how sure we are, the caution, and the
/// settings; with a story also why. Lines are at most 80 characters wide. `scene_name` is the title of a scene without one.
std::string summary(const Scene& scene, const std::string& scene_name, const std::string& digest, const TraceFigures& figures,
                    Units units, Detail detail = Detail::answer, const LightStory* story = nullptr);
/// What each target gets, a sentence or two: printed last.
std::string trace_answer(const Scene& scene, const TraceFigures& figures, Units units);

}  // namespace dishwright
