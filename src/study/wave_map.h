// SPDX-License-Identifier: MIT
// Samples for pictures: how loud it is around the first target, and how the answer changes with direction.
#pragma once

#include "study/wave_figures.h"
#include "study/wave_question.h"

namespace dishwright {

/// 200 × 200 places in the first target's plane, at the question's frequency; wide enough for the focal spot.
WaveMap wave_map(const WaveQuestion& question, Convergence& worst);
/// The first target's pattern at each frequency, over the same angles.
std::vector<WavePattern> wave_patterns(WaveQuestion question, const std::vector<double>& frequencies, Convergence& worst);

}  // namespace dishwright
