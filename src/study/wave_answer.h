// SPDX-License-Identifier: MIT
// What one target hears at one frequency, and its figures by name.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/estimate.h"
#include "result/figure_table.h"
#include "study/wave_question.h"

namespace dishwright {

/// What one target hears at one frequency. Levels are empty where nothing arrives. Sound: against the same wave without a mirror;
/// sending, a speaker at the first target far away in front of the dish, against the speaker alone. Radio: the feed at the
/// target.
struct WaveAnswer {
  std::optional<double> gain;              ///< sound: mirror and straight wave [dB]; radio: toward the far side [dBi]
  std::optional<double> reflected_gain;    ///< sound: by the mirror alone [dB]
  std::optional<double> half_power_width;  ///< of the beam, in the plane of aim_direction [rad]; empty: wider than ±90°
  std::optional<double> side_lobe;         ///< highest lobe beyond the first nulls, against the beam's peak [dB]
  std::optional<RadioFigures> radio;       ///< shares of the aperture efficiency; radio only
};

/// Target number `target` at the question's frequency. `worst` and `worst_beam` keep the worst convergence met.
WaveAnswer wave_answer(const WaveQuestion& question, std::size_t target, Convergence& worst, Convergence& worst_beam);

/// A figure of sound or radio [dB, dBi, rad, 1]; exact. Empty where the answer has none or the figure is one of light.
std::optional<Estimate> wave_figure(const WaveAnswer& answer, Figure figure);

/// The worse of two in every respect.
void keep_worst(Convergence& worst, const Convergence& other);

}  // namespace dishwright
