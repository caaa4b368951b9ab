// SPDX-License-Identifier: MIT
#include "report/waves/wave_tables.h"

#include <fmt/core.h>

#include <algorithm>

#include "report/waves/wave_words.h"
#include "wave/air.h"

namespace dishwright {

namespace {

/// Numbers of the frequencies that a table shows: all, or evenly spaced ones.
std::vector<std::size_t> chosen_frequencies(const WaveFigures& figures, std::size_t most) {
  const std::size_t count = figures.frequencies.size(), rows = std::min(count, most);
  std::vector<std::size_t> chosen;
  for (std::size_t k = 0; k < rows; ++k) chosen.push_back(rows > 1 ? k * (count - 1) / (rows - 1) : 0);
  return chosen;
}

std::string decimal(const std::optional<double>& level) {
  if (!level) return "none";
  const std::string text = fmt::format("{:.1f}", *level);
  return text == "-0.0" ? "0.0" : text;
}

std::string share(double value) { return fmt::format("{:.1f}", 100 * value); }

std::string beam_cell(const std::optional<double>& width) { return width ? angle_text(*width) : "all round"; }

TableRows sound_rows(const WaveFigures& figures, const WaveTarget& target, std::size_t most) {
  TableRows rows = {{"", "gain", "mirror only", "beam at", "side lobe"}, {"frequency", "[dB]", "[dB]", "half power", "[dB]"}};
  for (const std::size_t k : chosen_frequencies(figures, most)) {
    const WaveAnswer& answer = target.answers[k];
    rows.push_back({frequency_text(figures.frequencies[k]), decimal(answer.gain), decimal(answer.reflected_gain),
                    beam_cell(answer.half_power_width), decimal(answer.side_lobe)});
  }
  return rows;
}

TableRows radio_rows(const WaveFigures& figures, const WaveTarget& target, std::size_t most) {
  TableRows rows = {{"", "gain", "all", "caught", "taper", "phase", "blocked", "beam at", "side lobe"},
                    {"frequency", "[dBi]", "[%]", "[%]", "[%]", "[%]", "[%]", "half power", "[dB]"}};
  for (const std::size_t k : chosen_frequencies(figures, most)) {
    const WaveAnswer& answer = target.answers[k];
    const RadioFigures& radio = *answer.radio;
    rows.push_back({frequency_text(figures.frequencies[k]), decimal(answer.gain), share(radio.aperture_efficiency),
                    share(radio.spillover), share(radio.taper), share(radio.phase), share(radio.blockage),
                    beam_cell(answer.half_power_width), decimal(answer.side_lobe)});
  }
  return rows;
}

}  // namespace

TableRows gain_rows(const WaveFigures& figures, const WaveTarget& target, std::size_t most) {
  return figures.radio ? radio_rows(figures, target, most) : sound_rows(figures, target, most);
}

TableRows miss_rows(const WaveFigures& figures, std::size_t most) {
  const std::vector<std::size_t> chosen = chosen_frequencies(figures, most);
  TableRows rows = {{"lost [dB] when"}};
  for (const std::size_t k : chosen) rows[0].push_back(frequency_text(figures.frequencies[k]));
  const std::vector<MissCost>& first = figures.details.front().misses;
  for (std::size_t m = 0; m < first.size(); ++m) {
    rows.push_back({first[m].what});
    for (const std::size_t k : chosen) rows.back().push_back(decimal(figures.details[k].misses[m].loss));
  }
  return rows;
}

TableRows voice_rows(const WaveFigures& figures, Units units) {
  const VoiceFigures& voice = *figures.voice;
  TableRows rows = {{"distance", "without [dB]", "with the dish [dB]"}};
  for (const double distance : voice_distances(units == Units::us)) {
    const std::optional<double> gain = voice.gain_at(distance);
    const auto level = [&](double more) { return level_at(voice.level_at_1m, distance, more, voice.absorption); };
    rows.push_back(
        {distance_text(distance, units), decimal(level(0)), decimal(gain ? std::optional(level(*gain)) : std::nullopt)});
  }
  return rows;
}

}  // namespace dishwright
