// SPDX-License-Identifier: MIT
#include "report/trace/three_uses.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/numbers/deferral.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/trace/map_card.h"
#include "report/waves/wave_pictures.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

const char* const rules =
    "Light: fine from 90 % of the mirror's light on the first target, poor from 50 %. Sound: fine from 6 dB by the mirror alone "
    "at the lowest frequency asked for, poor from 0 dB. Radio: fine from an aperture efficiency of 50 % at the highest "
    "frequency, poor from 25 %. Below, useless. Common practice, no source.";
const std::string dish_caution =
    "A dish that is useless for light still burns: never look in, and cover it outdoors. Sound: volume down first. Radio: "
    "receive only unless licensed. " +
    deferral;

std::string grade_word(UseGrade grade) { return grade == UseGrade::fine ? "fine" : grade == UseGrade::poor ? "poor" : "useless"; }

/// Number of the lowest or highest frequency.
std::size_t end_frequency(const WaveFigures& figures, bool highest) {
  const auto [low, high] = std::minmax_element(figures.frequencies.begin(), figures.frequencies.end());
  return static_cast<std::size_t>((highest ? high : low) - figures.frequencies.begin());
}

}  // namespace

UseGrade grade_of(double value, double fine, double poor) {
  return value >= fine ? UseGrade::fine : value >= poor ? UseGrade::poor : UseGrade::useless;
}

UseLine light_use_line(const Result& result, const WorkCard* map) {
  const TargetFigures& target = result.figures.targets.front();
  UseLine line;
  line.source = "Light", line.numbers = fmt::format("nothing reaches the {}", target.name);
  if (target.intercept) {
    line.grade = grade_of(target.intercept->value, 0.9, 0.5);
    line.numbers =
        fmt::format("{} of the mirror's light falls on the {} (intercept)", percent_text(*target.intercept), target.name);
  }
  line.verdict = fmt::format("{} for light on the {}", grade_word(line.grade), target.name);
  if (map == nullptr || map_of(*map).panels.empty()) return line;
  MapPicture picture = map_of(*map);
  picture.panels.resize(1);
  picture.panels.front().heading.clear();
  line.picture = CardPicture{std::move(picture), "Light: where it falls"};
  return line;
}

UseLine wave_use_line(const WaveResult& result, bool sheet) {
  const WaveFigures& figures = result.figures;
  const std::size_t k = end_frequency(figures, figures.radio);
  const WaveTarget& target = figures.targets.front();
  const std::string at = frequency_text(figures.frequencies[k]);
  UseLine line;
  line.source = figures.radio ? "Radio" : "Sound";
  if (figures.radio) {
    const double efficiency = target.answers[k].radio->aperture_efficiency;
    line.grade = grade_of(efficiency, 0.5, 0.25);
    line.numbers = fmt::format("aperture efficiency {} at {}, gain {}", rough_text(100 * efficiency, 3) + " %", at,
                               level_text(target.answers[k].gain, "dBi"));
  } else {
    const auto& gain = target.answers[k].reflected_gain;
    if (gain) line.grade = grade_of(*gain, 6, 0);
    line.numbers = gain ? fmt::format("gain of the mirror alone {} at {}", level_text(gain), at)
                        : fmt::format("the mirror sends nothing to the {} at {}", target.name, at);
  }
  line.verdict = fmt::format("{} for {} {} {}", grade_word(line.grade), figures.radio ? "radio" : "sound",
                             figures.radio ? "of" : "from", at);
  if (sheet) line.picture = CardPicture{figures.radio ? pattern_chart(result) : gain_chart(result), line.source};
  return line;
}

std::string uses_text(const std::vector<UseLine>& uses) {
  std::string out = summary_heading("One dish, several uses") + wrapped(rules, "  ", "  ");
  for (const UseLine& use : uses) out += wrapped(use.verdict + ": " + use.numbers, "  - ", "    ");
  return out + mind_caution_line();
}

WorkCard uses_card(const Scene& scene, const std::string& name, const std::vector<UseLine>& uses, Units units) {
  WorkCard card;
  card.name = scene_title(scene, name) + ": uses";
  card.title = {{"Project", scene_title(scene, name)},
                {"Mirror", mirrors_words(scene)},
                {"Sheet", "several uses"},
                {"Made with", fmt::format("dishwright {}", DISHWRIGHT_VERSION)}};
  card.question = "What is this dish fit for?";
  for (const UseLine& use : uses) {
    const CardVerdict::Ground ground = use.grade == UseGrade::fine   ? CardVerdict::Ground::outline
                                       : use.grade == UseGrade::poor ? CardVerdict::Ground::pale
                                                                     : CardVerdict::Ground::dark;
    card.verdicts.push_back({fmt::format("{}: {}", use.source, grade_word(use.grade)), use.verdict + ": " + use.numbers, ground});
    if (use.picture) card.pictures.push_back(*use.picture);
  }
  std::vector<std::string> mirrors;
  for (const Reflector& mirror : scene.reflectors) mirrors.push_back(mirror.name + ": " + reflector_words(mirror, units));
  card.numbers = {{"The mirror", CardList{std::move(mirrors)}, true}, {"How the verdicts are found", CardList{{rules}}, true}};
  card.why = {
      "A wave forgives bumps that are small against its length: up to 1/16 hardly matters. Sound of 1 kHz is 13 1/2 in (34 "
      "cm) long, radio of "
      "10 GHz 1 3/16 in (3 cm), light far less than any bump.",
      "Light does not ask how high a bump is but how steep: each degree of slope throws it two degrees aside.",
      "At the other end a dish must be large against the wave: below about one wavelength across it gathers little."};
  card.cautions = {dish_caution};
  return card;
}

}  // namespace dishwright
