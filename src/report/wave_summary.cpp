// SPDX-License-Identifier: MIT
#include "report/wave_summary.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/scene_words.h"
#include "report/summary_parts.h"
#include "report/text_layout.h"
#include "report/text_table.h"
#include "report/wave_words.h"

namespace dishwright {

namespace {

constexpr std::size_t most_rows = 24;  // of a table by frequency

using Rows = std::vector<std::vector<std::string>>;

/// Numbers of the frequencies that a table shows: all, or evenly spaced ones.
std::vector<std::size_t> table_rows(const WaveFigures& figures) {
  const std::size_t count = figures.frequencies.size(), rows = std::min(count, most_rows);
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

std::string sound_table(const WaveFigures& figures, const WaveTarget& target) {
  Rows rows = {{"", "gain", "mirror only", "beam at", "side lobe"}, {"frequency", "[dB]", "[dB]", "half power", "[dB]"}};
  for (const std::size_t k : table_rows(figures)) {
    const WaveAnswer& answer = target.answers[k];
    rows.push_back({frequency_text(figures.frequencies[k]), decimal(answer.gain), decimal(answer.reflected_gain),
                    beam_cell(answer.half_power_width), decimal(answer.side_lobe)});
  }
  return text_table(rows);
}

std::string radio_table(const WaveFigures& figures, const WaveTarget& target) {
  Rows rows = {{"", "gain", "all", "caught", "taper", "phase", "blocked", "beam at", "side lobe"},
               {"frequency", "[dBi]", "[%]", "[%]", "[%]", "[%]", "[%]", "half power", "[dB]"}};
  for (const std::size_t k : table_rows(figures)) {
    const WaveAnswer& answer = target.answers[k];
    const RadioFigures& radio = *answer.radio;
    rows.push_back({frequency_text(figures.frequencies[k]), decimal(answer.gain), share(radio.aperture_efficiency),
                    share(radio.spillover), share(radio.taper), share(radio.phase), share(radio.blockage),
                    beam_cell(answer.half_power_width), decimal(answer.side_lobe)});
  }
  return text_table(rows);
}

const char* const sound_legend =
    "0 dB is the same sound without a mirror. gain: the wave from the mirror and the straight one together, which add up at some "
    "pitches and "
    "cancel at others. side lobe: the strongest other direction, against the beam.";

const char* const radio_legend =
    "\"all\" is the aperture efficiency: gain against the most that a dish as wide can have. It is the product of the next four, "
    "each as the "
    "share that is kept, and of what the skin reflects. caught: of the feed's power (spillover). taper: since the rim is lit "
    "less than the "
    "middle. phase: by paths of unequal length. blocked: what the target's shadow leaves.";

std::string miss_table(const WaveFigures& figures) {
  Rows rows(1);
  rows[0].emplace_back("lost [dB] when");
  for (const std::size_t k : table_rows(figures)) {
    if (k % std::max<std::size_t>(1, (figures.frequencies.size() + 5) / 6) == 0)
      rows[0].push_back(frequency_text(figures.frequencies[k]));
  }
  const std::vector<MissCost>& first = figures.details.front().misses;
  for (std::size_t m = 0; m < first.size(); ++m) {
    rows.push_back({flush_left(first[m].what, 28)});
    for (const std::size_t k : table_rows(figures)) {
      if (k % std::max<std::size_t>(1, (figures.frequencies.size() + 5) / 6) != 0) continue;
      rows.back().push_back(decimal(figures.details[k].misses[m].loss));
    }
  }
  return text_table(rows);
}

std::string best_place_line(const Scene& scene, const WaveFigures& figures, Units units) {
  const auto& best = figures.details[figures.shown].best;
  if (!best) return "";
  const Vector3& here = scene.targets.front().pose.at;
  std::string text =
      fmt::format("Best place for a microphone near there at {}: {}, {} away; gain {}.",
                  frequency_text(figures.frequencies[figures.shown]), place_words(best->place, units),
                  length_text(std::round((best->place - here).norm() * 1e4) / 1e4, units), level_text(best->gain.gain));
  if (best->at_edge) text += " It lies on the edge of the search: farther out may be better still.";
  return wrapped(text, "  ", "  ");
}

std::string first_target_block(const Scene& scene, const WaveFigures& figures, Units units) {
  std::string out = "\n" + wrapped(beam_words(figures), "", "  ");
  if (!figures.radio) out += wrapped(helps_words(scene, figures), "", "  ");
  out += summary_heading(fmt::format("What a miss costs at the {}", figures.targets.front().name)) + miss_table(figures);
  return out + best_place_line(scene, figures, units);
}

std::string certainty_block(const WaveFigures& figures) {
  std::string text = fmt::format(
      "Nothing here is chance. The sum over the mirror was refined until the gains changed by {:.1g} of the strongest. ",
      std::max(figures.convergence.change, 1e-9));
  text += figures.radio ? "Waves from the mirror's edge, polarisation and second reflections are left out; "
                        : "Waves from the mirror's edge, second reflections, ground and wind are left out; ";
  text += "expect 1 dB or so beside the real dish, more where it is not many wavelengths across.";
  return summary_heading("How sure are these numbers?") + wrapped(text, "  ", "  ");
}

}  // namespace

std::string wave_summary(const Scene& scene, const std::string& scene_name, const std::string& digest, const WaveFigures& figures,
                         Units units) {
  std::string out = title_block(scene, scene_name, units);
  for (const std::string& note : figures.notes) out += wrapped(note, "Note: ", "  ");
  for (std::size_t t = 0; t < figures.targets.size(); ++t) {
    out += "\n" + wrapped(wave_answer_words(figures, t), "", "  ");
    out += figures.radio ? radio_table(figures, figures.targets[t]) : sound_table(figures, figures.targets[t]);
  }
  if (figures.frequencies.size() > most_rows) out += "  Not all frequencies are shown; figures.json has them.\n";
  out += wrapped(figures.radio ? radio_legend : sound_legend, "  ", "  ");
  out += first_target_block(scene, figures, units);
  out += certainty_block(figures);
  out += "\n" + wave_caution(figures.radio);
  return out + "\n" + wrapped(wave_settings_line(figures.convergence.points, figures.speed, digest), "", "  ");
}

}  // namespace dishwright
