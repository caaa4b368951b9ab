// SPDX-License-Identifier: MIT
#include "study/wave_compare.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/error.h"
#include "base/threads.h"
#include "study/wave_map.h"

namespace dishwright {

namespace {

const std::vector<double>& frequencies_of(const Scene& scene) {
  return scene.radio ? scene.radio->frequencies : scene.sound->frequencies;
}

void check_alike(const std::vector<Contestant>& contestants) {
  const Contestant& first = contestants.front();
  for (const Contestant& one : contestants) {
    if (frequencies_of(one.scene) == frequencies_of(first.scene)) continue;
    const std::string kind = one.scene.radio ? "radio" : "sound";
    const InputError error(fmt::format("{} and {} have other frequencies", first.name, one.name),
                           "a dish gains more at a higher frequency, so their figures cannot stand side by side",
                           fmt::format("give all files the same: --set {}.frequency='{}'", first.scene.radio ? "radio" : "sound",
                                       first.scene.radio ? "1680 MHz" : "2 kHz"),
                           kind + ".frequency");
    throw placed(one.scene, error);
  }
}

/// Numbers of the lowest, middle and highest frequency, each once.
std::vector<std::size_t> drawn(const WaveFigures& figures) {
  const std::vector<double>& all = figures.frequencies;
  const auto [low, high] = std::minmax_element(all.begin(), all.end());
  std::vector<std::size_t> out = {static_cast<std::size_t>(low - all.begin())};
  for (const std::size_t k : {figures.shown, static_cast<std::size_t>(high - all.begin())}) {
    if (all[k] != all[out.back()]) out.push_back(k);
  }
  return out;
}

void add_differences(WaveComparison& all, std::size_t contestant) {
  const auto& of_first = all.first().targets.front().answers;
  const auto& own = all.contestants[contestant].figures.targets.front().answers;
  for (std::size_t k = 0; k < own.size(); ++k) {
    for (const Figure figure : compared_wave_figures(all.first().radio)) {
      const auto a = wave_figure(own[k], figure), b = wave_figure(of_first[k], figure);
      if (a && b)
        all.differences.push_back(
            {contestant, k, Estimate{a->value - b->value, std::nullopt, figure == Figure::gain ? "dB" : a->unit}, figure});
    }
  }
}

}  // namespace

const std::vector<Figure>& compared_wave_figures(bool radio) {
  static const std::vector<Figure> of_sound = {Figure::gain, Figure::reflected_gain, Figure::half_power_width},
                                   of_radio = {Figure::gain, Figure::aperture_efficiency, Figure::half_power_width};
  return radio ? of_radio : of_sound;
}

WaveComparison compare_waves(const std::vector<Contestant>& contestants, WaveMaps maps, int threads, Watch& watch) {
  check_alike(contestants);
  WaveComparison all;
  for (const Contestant& one : contestants) {
    WaveContestant made{one.name, one.rule, one.scene, wave_figures(one.scene, WaveMaps::none, threads, watch), {}};
    if (all.contestants.empty()) all.mapped = drawn(made.figures);
    if (maps == WaveMaps::made) {
      const auto draw = [&] {
        WaveQuestion question(one.scene, &watch);
        for (const std::size_t k : all.mapped) {
          question.set_frequency(made.figures.frequencies[k]);
          made.maps.push_back(wave_map(question, MapCut::focal));
        }
      };
      with_places(one.scene, [&] { on_threads(threads, draw); });
    }
    all.contestants.push_back(std::move(made));
    if (all.contestants.size() > 1) add_differences(all, all.contestants.size() - 1);
  }
  return all;
}

}  // namespace dishwright
