// SPDX-License-Identifier: MIT
// Samples for pictures: how loud it is around the first target, and how the answer changes with direction.
#pragma once

#include "study/wave_figures.h"
#include "study/wave_question.h"

namespace dishwright {

/// Which plane through the first target's centre.
enum class MapCut {
  focal,  ///< along its own x and y
  axial   ///< along its own x and z: how deep the spot is
};
/// 200 × 200 places of a plane, at the question's frequency; wide enough for the focal spot, and clear of the mirrors.
WaveMap wave_map(const WaveQuestion& question, MapCut cut);
/// The first target's pattern at each frequency, over the same angles.
std::vector<WavePattern> wave_patterns(WaveQuestion question, const std::vector<double>& frequencies, Convergence& worst);

}  // namespace dishwright
