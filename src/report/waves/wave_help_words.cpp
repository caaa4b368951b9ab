// SPDX-License-Identifier: MIT
#include "report/waves/wave_help_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/numbers/scene_words.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

constexpr double clear_help = 6;  // twice the amplitude [dB]
constexpr std::size_t most_named = 3;

/// To two digits: 618 → 620.
std::string about_text(double frequency) {
  const double step = std::pow(10.0, std::floor(std::log10(frequency)) - 1);
  return frequency_text(std::round(frequency / step) * step);
}

/// The lowest and the highest, "-0.4 to 3.1 dB"; one level where they look alike.
std::string range_text(double least, double most) {
  std::string from = level_text(least), to = level_text(most);
  return from == to ? to : from.substr(0, from.find(' ')) + " to " + to;
}

std::string band_words(const WaveFigures& figures) {
  const auto& bands = figures.help.bands;
  std::string out;
  for (std::size_t k = 0; k < bands.size() && k < most_named; ++k) {
    const bool up = bands[k].to >= figures.curve_frequencies.back();
    out += fmt::format("{}from about {} {}",
                       out.empty()             ? ""
                       : k + 1 == bands.size() ? " and "
                                               : ", ",
                       about_text(bands[k].from), up ? std::string("up") : "to " + about_text(bands[k].to));
  }
  if (bands.size() > most_named) out += fmt::format(", and in {} more ranges", bands.size() - most_named);
  return out;
}

bool helps_everywhere(const WaveFigures& figures) {
  const PitchBand& first = figures.help.bands.front();
  return first.from <= figures.curve_frequencies.front() && first.to >= figures.curve_frequencies.back();
}

std::string joined(const std::vector<std::string>& items) {
  std::string out;
  for (std::size_t k = 0; k < items.size(); ++k) out += (k == 0 ? "" : k + 1 == items.size() ? " and " : ", ") + items[k];
  return out;
}

/// Numbers of the frequencies asked for at which the first target hears less than without the dish, from low to high.
std::vector<std::size_t> quieter_asked(const WaveFigures& figures) {
  std::vector<std::size_t> out;
  const auto& answers = figures.targets.front().answers;
  for (std::size_t k = 0; k < answers.size(); ++k)
    if (answers[k].gain && *answers[k].gain <= -heard_change) out.push_back(k);
  std::sort(out.begin(), out.end(),
            [&](std::size_t a, std::size_t b) { return figures.frequencies[a] < figures.frequencies[b]; });
  return out;
}

}  // namespace

std::string help_verdict(double gain) {
  if (gain >= clear_help) return "Yes.";
  if (gain >= heard_change) return "A little.";
  return gain > -heard_change ? "No: it makes hardly a difference." : "No: it makes it quieter.";
}

std::string helps_line(const Scene& scene, const WaveFigures& figures) {
  if (figures.curve.gains.empty()) return "";
  const std::string mirrors = mirrors_words(scene);
  const char* const least = "(1 dB and more, about the least that an ear notices)";
  if (figures.help.bands.empty())
    return fmt::format("Up to {} {} never helps: what it sends {} stays below the straight wave, or adds less than 1 dB to it.",
                       frequency_text(figures.curve_frequencies.back()), mirrors, figures.sends ? "out" : "here");
  if (helps_everywhere(figures))
    return fmt::format("Even at {} {} helps {}.", frequency_text(figures.curve_frequencies.front()), mirrors, least);
  std::string out = fmt::format("{} {} helps {}.", band_words(figures), mirrors, least);
  out.front() = 'F';
  return out;
}

std::string helps_words(const Scene& scene, const WaveFigures& figures) {
  std::string out = helps_line(scene, figures);
  const WaveHelp& help = figures.help;
  if (help.bands.empty() || figures.curve.gains.empty()) return out;
  const bool below = help.bands.size() == 1 && help.bands.front().to >= figures.curve_frequencies.back();
  if (!helps_everywhere(figures))
    out += fmt::format(" {}, down to {}, the gain is {}.", below ? "Below" : "Elsewhere",
                       frequency_text(figures.curve_frequencies.front()), range_text(help.least_elsewhere, help.most_elsewhere));
  const double across = rim_width(scene.reflectors.front().shape) * help.bands.front().from / figures.speed;
  if (across < 1)
    out += fmt::format(" At {} the mirror is {} wavelengths across, so that pitch is rough.", about_text(help.bands.front().from),
                       rough_text(across, 1));
  return out;
}

std::string cancelled_asked_words(const WaveFigures& figures) {
  std::vector<std::string> asked;
  const std::vector<std::size_t> quieter = quieter_asked(figures);
  const auto loss = [&](std::size_t k) { return level_text(-*figures.targets.front().answers[k].gain); };
  if (quieter.size() == 1)
    return fmt::format("At {} the wave from the mirror and the straight one cancel: {} quieter than without the dish.",
                       frequency_text(figures.frequencies[quieter[0]]), loss(quieter[0]));
  for (std::size_t k = 0; k < quieter.size() && k < most_named; ++k)
    asked.push_back(fmt::format("{} (by {})", frequency_text(figures.frequencies[quieter[k]]), loss(quieter[k])));
  if (asked.empty()) return "";
  return fmt::format("At {}{} the wave from the mirror and the straight one cancel: quieter than without the dish.",
                     joined(asked), quieter.size() > most_named ? " and other frequencies of the table" : "");
}

std::string cancelled_words(const WaveFigures& figures) {
  std::string out = cancelled_asked_words(figures);
  // Dips that no frequency asked for stands for.
  std::vector<std::string> found;
  std::size_t more = 0;
  double lowest = 0;
  for (const CancelledPitch& dip : figures.help.cancelled) {
    const bool asked = std::any_of(figures.frequencies.begin(), figures.frequencies.end(),
                                   [&](double one) { return std::abs(one / dip.frequency - 1) < 0.02; });
    if (asked) continue;
    lowest = dip.gain;
    if (found.size() == most_named) {
      ++more;
    } else {
      found.push_back(fmt::format("{} (by {})", about_text(dip.frequency), level_text(-dip.gain)));
    }
  }
  if (found.empty()) return out;
  const std::string others = more > 0 ? fmt::format(" and {} more pitches", more) : "";
  if (!out.empty()) return out + fmt::format(" The quietest pitches are about {}{}.", joined(found), others);
  if (found.size() == 1)
    return fmt::format("At about {} the wave from the mirror and the straight one cancel: {} quieter than without the dish.",
                       found[0].substr(0, found[0].find(" (")), level_text(-lowest));
  return fmt::format("At about {}{} the wave from the mirror and the straight one cancel: quieter than without the dish.",
                     joined(found), others);
}

std::string best_place_words(const Scene& scene, const WaveFigures& figures, Units units) {
  const auto& best = figures.details[figures.shown].best;
  if (!best) return "";
  const Target& target = scene.targets.front();
  std::string text =
      fmt::format("Loudest place near there at {}: {}, {} from the middle of the {}; gain {}.",
                  frequency_text(figures.frequencies[figures.shown]), wave_place_text(best->place, units),
                  wave_length_text((best->place - target.pose.at).norm(), units), target.name, level_text(best->gain.gain));
  if (best->at_edge) text += " It lies on the edge of the map: farther out it may be louder still.";
  return text;
}

std::string facing_words(const Scene& scene, const WaveFigures& figures, Units units) {
  const std::string apart = distance_text(*scene.sound->facing, units),
                    at = frequency_text(figures.frequencies.at(figures.shown));
  const std::string who = fmt::format("Two such dishes that face each other {} apart:", apart);
  const auto& gain = figures.link_gains.at(figures.shown);
  if (!gain) return fmt::format("{} nothing arrives at {}.", who, at);
  const std::string name = figures.targets.front().name;
  if (std::abs(*gain) < heard_change)
    return fmt::format(
        "{} what is said at the {} of one comes by way of both about as loud to that of the other as straight, at {}.", who, name,
        at);
  return fmt::format("{} what is said at the {} of one comes by way of both {} {} to that of the other than straight, at {}.",
                     who, name, level_text(std::abs(*gain)), *gain < 0 ? "fainter" : "louder", at);
}

}  // namespace dishwright
