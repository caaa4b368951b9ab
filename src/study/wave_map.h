// SPDX-License-Identifier: MIT
// Samples for pictures: how loud it is around the first target, and how the answer changes with direction.
#pragma once

#include "study/wave_figures.h"
#include "study/wave_question.h"

namespace dishwright {

/// The cube about the first target that both maps cut, along its own axes: as wide as the focal spot asks for, and clear of the
/// mirrors. In it the loudest place is sought.
SearchBox map_box(const WaveQuestion& question);

/// Which plane through the first target's centre.
enum class MapCut {
  focal,  ///< along its own x and y
  axial   ///< along its own z: how deep the spot is
};
/// 200 × 200 places of a plane (a rough one: 48 × 48), at the question's frequency: a cut through map_box(). `toward`: a place
/// that the axial plane is turned to hold; where it lies on the target's own z, or there is none, the plane holds own x.
WaveMap wave_map(const WaveQuestion& question, MapCut cut, const std::optional<Vector3>& toward = std::nullopt,
                 WaveMaps maps = WaveMaps::made);
/// The first target's pattern at each frequency, over the same angles.
std::vector<WavePattern> wave_patterns(WaveQuestion question, const std::vector<double>& frequencies, Convergence& worst);

}  // namespace dishwright
