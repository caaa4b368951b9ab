// SPDX-License-Identifier: MIT
#include "question/survey_uses.h"

#include <algorithm>

#include "base/quantity.h"
#include "wave/air.h"
#include "wave/setup.h"

namespace dishwright {

namespace {

constexpr double room_temperature = 293.15;  // [K]

}  // namespace

std::vector<Scene> source_scenes(const ProjectFile& file, ReadOptions read) {
  std::vector<std::string> words = file.source_words(read);
  std::stable_partition(words.begin(), words.end(), [](const std::string& word) { return word == "light"; });
  if (words.empty()) words.emplace_back();  // the reader says what is missing
  std::vector<Scene> out;
  for (const std::string& word : words) {
    read.as = word;
    out.push_back(file.scene(read));
  }
  return out;
}

std::string wave_name(double frequency, const char* what) {
  const bool giga = frequency >= 1e9;
  return format_quantity(frequency / (giga ? 1e9 : 1e3), Dimension::number, nullptr) + (giga ? " GHz " : " kHz ") + what;
}

void judge_waves(const Scene& scene, const Estimate& half_path_rms, double hidden_rms, std::vector<UseVerdict>& uses) {
  if (!scene.is_wave()) return;
  std::vector<double> frequencies = scene.radio ? scene.radio->frequencies : scene.sound->frequencies;
  constexpr std::size_t most = 8;
  if (frequencies.size() > most) frequencies = {*std::max_element(frequencies.begin(), frequencies.end())};
  const double speed = scene.radio ? light_speed : scene.sound->speed.value_or(sound_speed(scene.sound->air.temperature));
  for (const double frequency : frequencies)
    uses.push_back(wave_use(wave_name(frequency, scene.radio ? "radio" : "sound"), frequency, speed, half_path_rms, hidden_rms));
}

std::vector<UseVerdict> judge_uses(const Survey& survey, const std::optional<SurveyLight>& light, double wanted,
                                   const std::vector<Scene>& scenes, const std::vector<double>& frequencies) {
  const Estimate& half_path_rms = survey.map.half_path_rms;
  const double hidden_rms = survey.hidden.half_path_rms;
  std::vector<UseVerdict> uses;
  for (std::size_t k = 0; light && k < light->targets.size(); ++k)
    uses.push_back(light_use(light->targets[k], light->shares[k], wanted, light->at_risk[k]));
  for (const Scene& scene : scenes) judge_waves(scene, half_path_rms, hidden_rms, uses);
  for (const double frequency : frequencies)
    uses.push_back(wave_use(wave_name(frequency, "radio"), frequency, light_speed, half_path_rms, hidden_rms));
  if (scenes.empty() || uses.empty())
    uses.push_back(wave_use("speech", highest_speech, sound_speed(room_temperature), half_path_rms, hidden_rms));
  return uses;
}

}  // namespace dishwright
