// SPDX-License-Identifier: MIT
// What a dish is worth over a distance: how far a voice carries, two facing dishes, a radio link.
#pragma once

#include <optional>

#include "study/wave_question.h"
#include "wave/link.h"

namespace dishwright {

/// Level of a quiet field [dB]: below it speech is hard to hear. Common practice, no source.
constexpr double quiet_field = 30;

/// A voice in front of the dish, by level_at(): the straight wave alone and with the dish's gain at one frequency.
struct VoiceFigures {
  double frequency = 0;      ///< whose gain and absorption are taken [Hz]
  double level_at_1m = 0;    ///< of the voice [dB]
  double gain = 0;           ///< of the dish at the first target [dB]
  double absorption = 0;     ///< of the air [dB/m]
  double reach_without = 0;  ///< distance at which it has fallen to quiet_field [m]; at most 100 km
  double reach_with = 0;     ///< the same with the dish [m]
  bool rough_air = false;    ///< air or frequency lie outside of what air_absorption() is known for
};
/// Empty where the scene names no voice or nothing arrives.
std::optional<VoiceFigures> voice_figures(const Sound& sound, double frequency, const std::optional<double>& gain);

/// This dish and an equal one that faces it along z, sound.facing away, a speaker at the first target of this and a microphone at
/// that of the other: gain against the straight way [dB], at the question's frequency. Empty where nothing arrives.
std::optional<double> facing_gain(const WaveQuestion& question, Convergence& worst);

/// What the dish hears of radio.link at one frequency, with its own gain [dBi]. Empty where there is no link or no gain.
std::optional<LinkBudget> link_budget(const Radio& radio, double frequency, const std::optional<double>& gain);

}  // namespace dishwright
