// SPDX-License-Identifier: MIT
#include "study/wave_distance.h"

#include "study/wave_map.h"
#include "wave/air.h"

namespace dishwright {

namespace {

/// Inside of the range of ISO 9613-1 that air_absorption() states.
bool known_air(double frequency, const Air& air) {
  constexpr double coldest = 253.15, hottest = 323.15, driest = 0.1, lowest = 50, highest = 10e3;
  return frequency >= lowest && frequency <= highest && air.temperature >= coldest && air.temperature <= hottest &&
         air.humidity >= driest;
}

/// A half turn about x, so that what looked along z looks back.
Matrix3 half_turn() { return Vector3(1, -1, -1).asDiagonal(); }

}  // namespace

std::optional<double> facing_gain(const WaveQuestion& question, Convergence& worst) {
  Scene pair = question.scene();
  const Pose here = pair.reflectors.front().pose;
  const Vector3 speaker = pair.targets.front().pose.at;
  Reflector other = pair.reflectors.front();
  other.pose.at += *pair.sound->facing * Vector3::UnitZ();
  other.pose.turn = half_turn() * here.turn;
  const Vector3 microphone = other.pose.at + half_turn() * (speaker - here.at);
  pair.reflectors.push_back(std::move(other));
  WaveSetup setup = question.setup();
  setup.reflectance.push_back(setup.reflectance.front());
  const TwoDishLink link = two_dish_link(pair, setup, speaker, 0, microphone, 1);
  keep_worst(worst, link.convergence);
  return finite(link.gain);
}

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

std::optional<LinkBudget> link_budget(const Radio& radio, double frequency, const std::optional<double>& gain) {
  if (!radio.link || !gain) return std::nullopt;
  LinkBudget budget;
  budget.transmit_power = radio.link->transmit_power;
  budget.transmit_gain = radio.link->transmit_gain, budget.receive_gain = *gain;
  budget.distance = radio.link->distance, budget.wavelength = light_speed / frequency;
  budget.other_losses = radio.link->losses;
  budget.needed_power = radio.link->needed;
  return budget;
}

}  // namespace dishwright
