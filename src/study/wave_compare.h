// SPDX-License-Identifier: MIT
// Several scenes of sound or radio side by side.
#pragma once

#include <string>
#include <vector>

#include "study/compare.h"
#include "study/wave_figures.h"

namespace dishwright {

/// Differences of gain below this are none that the method can see [dB]: it leaves out the waves from the mirror's edge
/// (docs/decisions/0014-waves.md).
inline constexpr double seen_difference = 0.5;

struct WaveContestant {
  std::string name, rule;  ///< as a Contestant's
  Scene scene;
  WaveFigures figures;
  std::vector<WaveMap> maps;  ///< about the first target, at WaveComparison::mapped; none where none are wanted
};

/// One figure of the first target at one frequency: that of a contestant minus that of the first one.
struct WaveDifference {
  std::size_t contestant = 0, frequency = 0;  ///< their numbers
  Estimate difference;
  Figure figure = Figure::gain;  ///< or reflected_gain (sound), aperture_efficiency (radio), half_power_width
};

struct WaveComparison {
  std::vector<WaveContestant> contestants;
  std::vector<std::size_t> mapped;          ///< numbers of the lowest, middle and highest frequency, each once
  std::vector<WaveDifference> differences;  ///< by contestant, frequency, figure; those that one of the two lacks are left out
  const WaveFigures& first() const { return contestants.front().figures; }
};

/// The figures that are compared.
const std::vector<Figure>& compared_wave_figures(bool radio);

/// All scenes (2 or more) have sound, or all have radio, of the same frequencies: else InputError. Throws Interrupted when
/// watch.stop is set. The same bits on any number of threads.
WaveComparison compare_waves(const std::vector<Contestant>& contestants, WaveMaps maps, int threads, Watch& watch);

}  // namespace dishwright
