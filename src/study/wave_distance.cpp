// SPDX-License-Identifier: MIT
#include "study/wave_distance.h"

#include <algorithm>
#include <cmath>

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

/// What the first target gains for a voice at a distance from it toward the far side; where the dish sends, what a listener there
/// does for a voice at the target.
std::optional<double> gain_from(const WaveQuestion& question, double distance, Convergence& worst) {
  const Scene& scene = question.scene();
  const Vector3 here = scene.targets.front().pose.at, there = here + distance * question.toward();
  const bool sends = scene.sound->from == Sound::From::target;
  const WaveField field =
      wave_field(scene, question.setup(), WaveSource::from_point(sends ? here : there), {sends ? there : here});
  if (!field.convergence.reached) return std::nullopt;
  keep_worst(worst, field.convergence);
  return finite(wave_gain(field.reflected.front(), field.direct.front()).gain);
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

std::vector<double> voice_distances(bool feet) {
  constexpr double foot = 0.3048;
  if (feet) return {10 * foot, 30 * foot, 100 * foot, 300 * foot, 1000 * foot};
  return {3, 10, 30, 100, 300};
}

std::optional<double> VoiceFigures::gain_at(double distance) const {
  for (const VoiceStep& step : steps) {
    if (std::abs(step.distance - distance) <= 1e-9 * distance) return step.gain;
  }
  return gain;
}

std::optional<VoiceFigures> voice_figures(const WaveQuestion& question, const std::optional<double>& gain, Convergence& worst) {
  const Scene& scene = question.scene();
  const Sound& sound = *scene.sound;
  if (!sound.voice || !gain) return std::nullopt;
  const double frequency = question.setup().frequency, width = rim_width(scene.reflectors.front().shape);
  VoiceFigures voice;
  voice.frequency = frequency;
  voice.level_at_1m = voice_level(*sound.voice);
  voice.gain = *gain;
  voice.absorption = air_absorption(frequency, sound.air);
  voice.flat_from = 2 * width * width / question.setup().wavelength();
  for (const bool feet : {true, false}) {
    for (const double distance : voice_distances(feet)) voice.steps.push_back({distance, gain_from(question, distance, worst)});
  }
  std::sort(voice.steps.begin(), voice.steps.end(), [](const auto& a, const auto& b) { return a.distance < b.distance; });
  const auto reach = [&](double with) { return distance_for_level(voice.level_at_1m, quiet_field, with, voice.absorption); };
  voice.reach_without = reach(0);
  voice.reach_with = reach(*gain);
  // The gain there is not quite that of a voice far away.
  constexpr int rounds = 4;
  for (int round = 0; round < rounds; ++round)
    voice.reach_with = reach(gain_from(question, voice.reach_with, worst).value_or(*gain));
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
