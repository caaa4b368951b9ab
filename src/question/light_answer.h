// SPDX-License-Identifier: MIT
// All figures of a scene of light that a trace tells.
#pragma once

#include "base/progress.h"
#include "result/figures.h"
#include "study/light_figures.h"

namespace dishwright {

/// The figures, with the range of the finishes, the brightest that the mirrors can do anywhere and the keep-clear field. Throws as
/// PreparedLight::solve() does. Once only.
TraceFigures light_answer(PreparedLight& light, int threads, Watch& watch);

/// Paths of one point of a tolerance of light, where the scene has more: an error of the share of some 0.0003.
inline constexpr std::uint64_t most_tolerance_paths = 65'536;

}  // namespace dishwright
