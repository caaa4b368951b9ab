// SPDX-License-Identifier: MIT
// What a dish is worth over a distance: how far a voice carries, two facing dishes, a radio link.
#pragma once

#include <optional>
#include <vector>

#include "study/wave_question.h"
#include "wave/link.h"

namespace dishwright {

/// Level of a quiet field [dB]: below it speech is hard to hear. Common practice, no source.
constexpr double quiet_field = 30;

/// Distances at which a voice is told [m]: 10 to 1000 ft, or 3 to 300 m.
std::vector<double> voice_distances(bool feet);

/// What the dish gains for a voice at a distance from the first target, along the way to the far side.
struct VoiceStep {
  double distance = 0;         ///< [m]
  std::optional<double> gain;  ///< [dB]; empty where nothing arrives, or the sum does not settle
};

/// A voice in front of the dish, by level_at(): the straight wave alone and with the dish's gain at one frequency. Near the dish
/// its wave is not flat, so the gain is summed at each distance by itself.
struct VoiceFigures {
  double frequency = 0;          ///< whose gain and absorption are taken [Hz]
  double level_at_1m = 0;        ///< of the voice [dB]
  double gain = 0;               ///< of the dish at the first target, for a voice far away [dB]
  double absorption = 0;         ///< of the air [dB/m]
  double reach_without = 0;      ///< distance at which it has fallen to quiet_field [m]; at most 100 km
  double reach_with = 0;         ///< the same with the dish [m]
  bool rough_air = false;        ///< air or frequency lie outside of what air_absorption() is known for
  double flat_from = 0;          ///< 2 width²/λ: from about there on the wave that meets the dish is flat [m]
  std::vector<VoiceStep> steps;  ///< by rising distance; both systems of voice_distances()
  /// At one of the steps' distances, the gain there; at others that of a voice far away.
  std::optional<double> gain_at(double distance) const;
};
/// At the question's frequency, for which the first target has that gain. Empty where the scene names no voice or nothing
/// arrives. Where the dish sends, the voice is at the first target, and the distance that of the listener.
std::optional<VoiceFigures> voice_figures(const WaveQuestion& question, const std::optional<double>& gain, Convergence& worst);

/// This dish and an equal one that faces it along z, sound.facing away, a speaker at the first target of this and a microphone at
/// that of the other: gain against the straight way [dB], at the question's frequency. Empty where nothing arrives.
std::optional<double> facing_gain(const WaveQuestion& question, Convergence& worst);

/// What the dish hears of radio.link at one frequency, with its own gain [dBi]. Empty where there is no link or no gain.
std::optional<LinkBudget> link_budget(const Radio& radio, double frequency, const std::optional<double>& gain);

}  // namespace dishwright
