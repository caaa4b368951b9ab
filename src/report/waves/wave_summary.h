// SPDX-License-Identifier: MIT
// The answer of a trace of sound or radio as text for a terminal.
#pragma once

#include <string>

#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "study/wave_figures.h"

namespace dishwright {

/// What was asked, what each target hears by frequency, what a miss costs, notes, the caution, the settings. Lines are at most 80
/// characters wide.
std::string wave_summary(const Scene& scene, const std::string& scene_name, const std::string& digest, const WaveFigures& figures,
                         Units units, Detail detail = Detail::answer);
/// What each target hears, and what is left of a link: printed last.
std::string wave_answer(const Scene& scene, const WaveFigures& figures, Units units);

}  // namespace dishwright
