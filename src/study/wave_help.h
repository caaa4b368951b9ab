// SPDX-License-Identifier: MIT
// At which pitches a dish helps, and at which its wave and the straight one cancel.
#pragma once

#include <functional>
#include <vector>

#include "wave/gain.h"

namespace dishwright {

/// Least change of a level that counts [dB]: about what an ear notices (from memory), and what the method is good to.
constexpr double heard_change = 1;

/// Pitches [Hz].
struct PitchBand {
  double from = 0, to = 0;
};

/// A pitch at which the wave from the mirror and the straight one meet out of step.
struct CancelledPitch {
  double frequency = 0;  ///< [Hz]
  double gain = 0;       ///< -heard_change or less [dB]
};

struct WaveHelp {
  /// Where the gain is heard_change or more, and the mirror's part at least as strong as the straight wave: from low to high.
  /// Below that, the mirror is mostly too small for the wave, and its figures are rough.
  std::vector<PitchBand> bands;
  double least_elsewhere = 0, most_elsewhere = 0;  ///< gain outside of the bands [dB]; both 0 where there is nothing outside
  std::vector<CancelledPitch> cancelled;           ///< the lowest place of each dip of the gain, from low to high pitches
};

/// Of a gain curve over rising frequencies [Hz]; bands end between two of them, linear in log f. `gain_at` gives the gain at any
/// frequency [dB]; the place of a dip is good to about a hundredth of the step between two frequencies.
WaveHelp wave_help(const std::vector<double>& frequencies, const std::vector<WaveGain>& gains,
                   const std::function<double(double)>& gain_at);

}  // namespace dishwright
