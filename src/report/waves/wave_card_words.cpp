// SPDX-License-Identifier: MIT
#include "report/waves/wave_card_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/numbers/scene_words.h"
#include "report/waves/wave_help_words.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

double shown_frequency(const WaveFigures& figures) { return figures.frequencies.at(figures.shown); }

/// "1/8 wavelength is 13/16 in at 2 kHz and 3/16 in at 8 kHz"
std::string eighth_words(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  const auto one = [&](double frequency) {
    const double eighth = figures.speed / frequency / 8;
    return fmt::format("{} {} at {}", rough_text(eighth * lengths_per_metre(result.units), 2), length_unit(result.units),
                       frequency_text(frequency));
  };
  const double highest = *std::max_element(figures.frequencies.begin(), figures.frequencies.end());
  std::string text = "1/8 wavelength is " + one(shown_frequency(figures));
  if (highest != shown_frequency(figures)) text += " and " + one(highest);
  return text;
}

std::string across_words(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  const double across = rim_width(result.scene.reflectors.front().shape) * shown_frequency(figures) / figures.speed;
  return fmt::format("The mirror is {} wavelengths across at {}. The more, the higher the gain and the narrower the beam.",
                     rough_text(across, 2), frequency_text(shown_frequency(figures)));
}

}  // namespace

std::string wave_question_words(const Scene& scene) {
  if (scene.radio) return "How much does this dish gain?";
  return scene.sound->from == Sound::From::target ? "Does this dish carry our sound far?" : "Does this dish help us hear it?";
}

std::string wave_verdict_words(const WaveFigures& figures) {
  std::string figure = wave_answer_words(figures, 0);
  const auto& gain = figures.targets.front().answers.at(figures.shown).gain;
  if (figures.radio || !gain) return figure;
  const std::string words = fmt::format("{} {}", help_verdict(*gain), figure), quieter = cancelled_asked_words(figures);
  // Of the frequency shown the figure says it.
  return quieter.empty() || *gain <= -heard_change ? words : words + " " + quieter;
}

std::vector<std::string> wave_place_items(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  std::vector<std::string> items;
  const std::string best = best_place_words(result.scene, figures, result.units);
  if (!best.empty()) items.push_back(best);
  items.push_back(fmt::format("Make the bracket of the {} so that it can be moved that finely: {}.", figures.targets.front().name,
                              eighth_words(result)));
  items.push_back(beam_words(figures));
  if (figures.radio) items.push_back(surface_words(figures, result.units));
  if (!figures.mesh_leaks.empty()) items.push_back(mesh_words(figures));
  items.push_back(
      figures.radio ? "Aim by the receiver's meter: past the peak on both sides, then back to the middle."
      : figures.sends
          ? "Aim by a listener far away: sweep slowly past the direction that is loudest there, then back to the middle."
          : "Aim by ear: sweep slowly past the loudest direction to both sides, then back to the middle.");
  return items;
}

std::vector<std::string> wave_why_items(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  std::vector<std::string> items = {
      figures.sends
          ? "From the right place the waves by way of all parts of the mirror leave in step and add up far away. From "
            "beside it they leave out of step and cancel."
          : "At the right place the waves from all parts of the mirror arrive in step and add up. Beside it they arrive "
            "out of step and cancel.",
      across_words(result)};
  if (figures.radio) {
    items.emplace_back(
        "A feed that looks past the rim wastes power; one that lights only the middle wastes mirror. About -10 dB at the rim is "
        "the usual middle way.");
    items.emplace_back(
        "Bumps of the surface put waves out of step twice, on the way in and out: at twice the frequency they may be half as "
        "high.");
  } else {
    items.push_back(helps_words(result.scene, figures));
    if (const std::string words = cancelled_words(figures); !words.empty()) items.push_back(words);
    items.emplace_back("Twice the pitch: the part of a true mirror grows by 6 dB, its beam is half as wide.");
    items.emplace_back(figures.sends
                           ? "The straight wave goes ahead of the one by way of the mirror, so at some pitches they cancel."
                           : "The straight wave arrives earlier than the one from the mirror, so at some pitches they "
                             "cancel.");
  }
  return items;
}

}  // namespace dishwright
