// SPDX-License-Identifier: MIT
#include "report/waves/wave_summary.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/numbers/scene_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/numbers/text_table.h"
#include "report/waves/wave_help_words.h"
#include "report/waves/wave_tables.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

constexpr std::size_t most_rows = 24, most_miss_columns = 6;  // of tables by frequency

const char* const sound_legend =
    "0 dB is the same sound without a mirror. gain: the wave from the mirror and the straight one together, which add up at some "
    "pitches and "
    "cancel at others. side lobe: the strongest other direction, against the beam.";

const char* const sending_legend =
    "0 dB is the same speaker without a mirror, as loud as it is far away, straight ahead. gain: the wave from the mirror and "
    "the "
    "straight one together, which add up at some pitches and cancel at others. side lobe: the strongest other direction, against "
    "the beam.";

const char* const radio_legend =
    "\"all\" is the aperture efficiency: gain against the most that a dish as wide can have. It is the product of the next four, "
    "each as the "
    "share that is kept, and of what the skin reflects. caught: of the feed's power (spillover). taper: since the rim is lit "
    "less than the "
    "middle. phase: by paths of unequal length. blocked: what the target's shadow leaves.";

std::string miss_table(const WaveFigures& figures) {
  TableRows rows = miss_rows(figures, most_miss_columns);
  for (std::size_t r = 1; r < rows.size(); ++r) rows[r].front() = flush_left(rows[r].front(), 28);
  return text_table(rows);
}

std::string miss_heading(const WaveFigures& figures) {
  const std::string& name = figures.targets.front().name;
  return figures.sends ? fmt::format("What it costs when the {} stands wrong", name)
                       : fmt::format("What a miss costs at the {}", name);
}

std::string first_target_block(const Scene& scene, const WaveFigures& figures, Units units) {
  std::string out = "\n" + wrapped(beam_words(figures), "", "  ");
  out += wrapped(figures.radio ? surface_words(figures, units) : helps_words(scene, figures), "", "  ");
  if (const std::string words = figures.radio ? "" : cancelled_words(figures); !words.empty()) out += wrapped(words, "", "  ");
  if (const std::string flaws = flaw_loss_words(scene, figures, units); !flaws.empty()) out += wrapped(flaws, "", "  ");
  if (!figures.mesh_leaks.empty()) out += wrapped(mesh_words(figures), "", "  ");
  out += summary_heading(miss_heading(figures)) + miss_table(figures);
  const std::string best = best_place_words(scene, figures, units);
  return best.empty() ? out : out + wrapped(best, "  ", "  ");
}

std::string voice_block(const WaveFigures& figures, Units units) {
  return summary_heading("How far a voice carries") + text_table(voice_rows(figures, units)) +
         wrapped(voice_words(figures, units), "  ", "  ");
}

std::string certainty_block(const WaveFigures& figures, Detail detail) {
  std::string text = "Nothing here is chance. ";
  if (detail == Detail::method)
    text += fmt::format("The sum over the mirror was refined until the gains changed by {} of the strongest. ",
                        rough_text(std::max(figures.convergence.change, 1e-9), 1));
  text += figures.radio ? "Waves from the mirror's edge, polarisation and second reflections are left out; "
                        : "Waves from the mirror's edge, second reflections, ground and wind are left out; ";
  text += "expect 1 dB or so beside the real dish, more where it is not many wavelengths across.";
  return summary_heading("How sure are these numbers?") + wrapped(text, "  ", "  ");
}

}  // namespace

std::string wave_summary(const Scene& scene, const std::string& scene_name, const std::string& digest, const WaveFigures& figures,
                         Units units, Detail detail) {
  std::string out = title_block(scene, scene_name, units);
  for (const std::string& note : figures.notes) out += wrapped(note, "Note: ", "  ");
  for (std::size_t t = 0; t < figures.targets.size(); ++t) {
    out += summary_heading(wave_heading(figures, t));
    out += text_table(gain_rows(figures, figures.targets[t], most_rows));
  }
  if (figures.frequencies.size() > most_rows) out += "  Not all frequencies are shown; figures.json has them.\n";
  out += wrapped(figures.radio ? radio_legend : figures.sends ? sending_legend : sound_legend, "  ", "  ");
  out += first_target_block(scene, figures, units);
  if (figures.voice) out += voice_block(figures, units);
  if (!figures.link_gains.empty())
    out += summary_heading("Two facing dishes") + wrapped(facing_words(scene, figures, units), "  ", "  ");
  if (figures.link) out += summary_heading("The link") + wrapped(link_words(figures, units), "  ", "  ");
  out += certainty_block(figures, detail);
  out += "\n" + wave_caution(figures.radio, figures.sends);
  return out + "\n" + wrapped(wave_settings_line(figures.convergence.points, figures.speed, digest, detail), "", "  ");
}

std::string wave_answer(const Scene& scene, const WaveFigures& figures, Units units) {
  constexpr std::size_t most = 8;
  std::string out = answer_heading("Answer", scene.oddities);
  const std::size_t told = std::min(most, figures.targets.size());
  for (std::size_t t = 0; t < told; ++t) out += wrapped(wave_answer_words(figures, t), "  ", "    ");
  if (told < figures.targets.size()) out += fmt::format("  {} more targets: above.\n", figures.targets.size() - told);
  if (const std::string words = figures.radio ? "" : cancelled_asked_words(figures); !words.empty())
    out += wrapped(words, "  ", "    ");
  if (!figures.link_gains.empty()) out += wrapped(facing_words(scene, figures, units), "  ", "    ");
  if (figures.link) out += wrapped(link_margin_words(figures, units), "  ", "    ");
  return out + mind_caution_line();
}

}  // namespace dishwright
