// SPDX-License-Identifier: MIT
#include "study/wave_distance.h"

#include "wave/air.h"

namespace dishwright {

namespace {

/// Inside of the range of ISO 9613-1 that air_absorption() states.
bool known_air(double frequency, const Air& air) {
  constexpr double coldest = 253.15, hottest = 323.15, driest = 0.1, lowest = 50, highest = 10e3;
  return frequency >= lowest && frequency <= highest && air.temperature >= coldest && air.temperature <= hottest &&
         air.humidity >= driest;
}

}  // namespace

std::optional<VoiceFigures> voice_figures(const Sound& sound, double frequency, const std::optional<double>& gain) {
  if (!sound.voice || !gain) return std::nullopt;
  VoiceFigures voice;
  voice.frequency = frequency;
  voice.level_at_1m = voice_level(*sound.voice);
  voice.gain = *gain;
  voice.absorption = air_absorption(frequency, sound.air);
  voice.reach_without = distance_for_level(voice.level_at_1m, quiet_field, 0, voice.absorption);
  voice.reach_with = distance_for_level(voice.level_at_1m, quiet_field, voice.gain, voice.absorption);
  voice.rough_air = !known_air(frequency, sound.air);
  return voice;
}

}  // namespace dishwright
