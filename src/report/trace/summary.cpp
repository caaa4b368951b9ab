// SPDX-License-Identifier: MIT
#include "report/trace/summary.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "report/numbers/caution.h"
#include "report/numbers/light_units.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/trace/figure_notes.h"
#include "report/trace/text_map.h"
#include "report/trace/why.h"
#include "report/yard/keep_clear_report.h"
#include "result/figure_table.h"

namespace dishwright {

namespace {

const char* const safety_page = "Rules: safety.pdf.";

std::string label(Figure figure) { return std::string(row_of(figure).line); }

std::string brightness_lines(const TargetFigures& target, double beam, const LightUnits& light, Units units) {
  std::string out;
  if (target.peak_irradiance) {
    out += summary_line(label(Figure::peak_irradiance), irradiance_text(*target.peak_irradiance, light));
    if (target.peak_concentration)
      out += summary_line(fmt::format("  in suns (1 sun = {} W/m²)", exact_text(beam)),
                          number_text(*target.peak_concentration, units));
  }
  if (target.mean_irradiance) {
    const std::string area = number_text({target.area, std::nullopt, "m2"}, units);
    out += summary_line("Mean over all its " + area, irradiance_text(*target.mean_irradiance, light));
  }
  if (target.evenness)
    out += summary_line(label(Figure::evenness),
                        number_text(*target.evenness, units) + " (darkest part / mean, in the 50 % circle)");
  return out;
}

std::string spot_lines(const TargetFigures& target, Units units) {
  const bool band = target.shape == "rectangle";
  const std::string width = band                    ? "a band {} wide"
                            : target.shape == "pot" ? "a circle {} across, at its base"
                                                    : "a circle {} across";
  const auto within = [&](const Estimate& size) { return fmt::format(fmt::runtime(width), number_text(size, units)); };
  std::string out;
  if (target.spot_width_50) out += summary_line(label(Figure::spot_width_50), within(*target.spot_width_50));
  if (target.spot_width_90) out += summary_line(label(Figure::spot_width_90), within(*target.spot_width_90));
  if (target.spot_rms_radius) out += summary_line(label(Figure::spot_rms_radius), number_text(*target.spot_rms_radius, units));
  if (target.centroid) {
    out += summary_line("Centre of the light, x", number_text((*target.centroid)[0], units));
    out += summary_line("Centre of the light, y", number_text((*target.centroid)[1], units));
  }
  return out;
}

/// How the picture of a face is to be read.
std::string view_words(const MapFace& face, bool lamp) {
  if (face.name == "front" || face.name == "base")
    return lamp ? "seen through it from its far side, toward the mirror (x right, y up)" : "seen from the sun (x right, y up)";
  return "unrolled flat; across is the way round, from its +x side";
}

/// The sentences that say what the target gets of what there is.
std::string answer(const Scene& scene, const TraceFigures& figures, const TargetFigures& target, Units units) {
  const std::string all = number_text(figures.aperture_power, units);
  const std::string source = scene.lamp ? fmt::format("{} of the lamp, by {}", all, mirrors_words(scene))
                                        : fmt::format("{} that meet {}", all, mirrors_words(scene));
  const std::string share =
      target.intercept ? fmt::format(" It catches {} of the mirror's light.", percent_text(*target.intercept)) : "";
  const std::string range = target.power_range ? " (" + power_range_words(scene, target) + ")" : "";
  return fmt::format("Light on the {}: {}{} of the {}.{}", target.name, number_text(target.power, units), range, source, share);
}

/// Light that came without a mirror.
std::string straight_lines(const TargetFigures& target, Units units) {
  if (target.direct_power.value <= 0) return "";
  const std::string straight = number_text(target.direct_power, units) + " (extra, not counted above)";
  if (!target.total_power) return summary_line("Straight from the sun", straight);
  return summary_line("Straight from the lamp", straight) +
         summary_line(label(Figure::total_power), number_text(*target.total_power, units));
}

/// The figures and the picture.
std::string target_block(const Scene& scene, const TraceFigures& figures, const TargetFigures& target, Units units) {
  const LightUnits light = light_units(scene);
  std::string out = summary_heading("Light on the " + target.name);
  out += summary_line("Power by the mirror", number_text(target.power, units));
  if (target.power_range) out += summary_line("  what its finish can be", power_range_words(scene, target));
  if (target.intercept) out += summary_line(label(Figure::intercept), percent_text(*target.intercept));
  out += brightness_lines(target, figures.beam, light, units);
  out += spot_lines(target, units);
  out += straight_lines(target, units);
  const MapFace* face = hottest_face(target);
  if (face == nullptr) return out + "  No mirror light lands here, so there is no picture.\n";
  return out + "\n" +
         wrapped(fmt::format("Where it lands on the {} ({}), {}:", target.name, face->name,
                             view_words(*face, scene.lamp.has_value())),
                 "  ", "  ") +
         text_map(target, units, light);
}

std::string percent_of(double part, double whole) {
  if (!(whole > 0)) return "-";
  const double percent = 100 * part / whole;
  return percent > 0 && percent < 0.05 ? "<0.1" : fmt::format("{:.1f}", percent);
}

/// The ledger in one unit and to one place, so that it adds up to the eye; "<1" where a power is less than half of that place.
struct LedgerColumn {
  int power_of_ten = 0, decimals = 0;

  explicit LedgerColumn(double whole) {
    const NumberParts parts = figure_parts({whole, std::nullopt, "W"});
    power_of_ten = parts.power_of_ten;
    const std::size_t point = parts.value.find('.');
    decimals = point == std::string::npos ? 0 : static_cast<int>(parts.value.size() - point) - 1;
  }
  std::string head(const std::string& unit) const {
    return power_of_ten == 0 ? unit : fmt::format("10^{} {}", power_of_ten, unit);
  }
  std::string text(double power) const {
    const double shown = power * std::pow(10.0, -power_of_ten), place = std::pow(10.0, -decimals);
    if (shown > 0 && shown < place / 2) return fmt::format("<{:.{}f}", place, decimals);
    return fmt::format("{:.{}f}", shown, decimals);
  }
};

struct LedgerRow {
  std::string where, power, percent;
};

std::vector<LedgerRow> ledger_rows(const TraceFigures& figures) {
  double sum = 0;
  for (const LedgerLine& entry : figures.ledger) sum += entry.power.value;
  const LedgerColumn column(sum);
  std::vector<LedgerRow> rows = {{"", column.head(figures.aperture_power.unit), "%"}};
  for (const LedgerLine& entry : figures.ledger) {
    const bool target = std::any_of(figures.targets.begin(), figures.targets.end(),
                                    [&](const TargetFigures& t) { return t.name == entry.where; });
    rows.push_back(
        {target ? "landed on " + entry.where : entry.where, column.text(entry.power.value), percent_of(entry.power.value, sum)});
  }
  rows.push_back({"in all", column.text(sum), percent_of(sum, sum)});
  return rows;
}

std::string ledger_block(const Scene& scene, const TraceFigures& figures) {
  const std::vector<LedgerRow> rows = ledger_rows(figures);
  const auto widest = [&rows](std::string LedgerRow::*column) {
    int width = 0;
    for (const LedgerRow& row : rows) width = std::max(width, characters(row.*column));
    return width;
  };
  const int where = widest(&LedgerRow::where), power = widest(&LedgerRow::power), percent = 8;
  std::string out = summary_heading(scene.lamp ? "Where the light of the lamp went"
                                               : "Where the light that meets " + mirrors_words(scene) + " went");
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (i + 1 == rows.size()) out += "  " + std::string(static_cast<std::size_t>(where + power + percent + 2), '-') + "\n";
    out += "  " + flush_left(rows[i].where, where) + "  " + flush_right(rows[i].power, power) +
           flush_right(rows[i].percent, percent) + "\n";
  }
  return out;
}

/// Of figures that are a sum over the mirror.
std::string sum_certainty(const TraceFigures& figures, Detail detail) {
  const std::string how =
      detail == Detail::method
          ? fmt::format(
                "how much the answer changed when more places of the mirror were counted (mirror quadrature; {} in the "
                "end), joined with what the method leaves out",
                grouped_whole(figures.paths))
          : std::string("how far the answer may be off");
  return fmt::format(
      "Nothing here is chance: the same project gives the same numbers. The number behind ± is {}; the answer itself is mostly "
      "better. A number without ± is surer than its three digits show. It says nothing of how well the project file fits the "
      "real dish, sun and target.",
      how);
}

std::string certainty_block(const Scene& scene, const TraceFigures& figures, Detail detail) {
  std::string out = summary_heading("How sure are these numbers?");
  if (figures.method == "quadrature") return out + wrapped(sum_certainty(figures, detail), "  ", "  ");
  if (figures.replicates < 2)
    return out + wrapped("So few paths were traced that there is no ±. Trace more of them.", "  ", "  ");
  const auto times = [](double coverage, int freedom) { return fmt::format("{:.2f}", student_quantile(coverage, freedom)); };
  std::string text = fmt::format(
      "The number behind ± is the standard error. In 68 of 100 runs with other seeds, the answer for endless paths lies "
      "within {} × that error; in 95 of 100, within {} ×",
      figures.replicates < 9 ? times(0.68, figures.replicates - 1) : "1", times(0.95, figures.replicates - 1));
  const int evenness_freedom = scene.lamp ? figures.replicates / 2 - 1 : 0;
  text += evenness_freedom >= 1 ? fmt::format(" (evenness: {} ×).", times(0.95, evenness_freedom)) : ".";
  text += fmt::format(
      " Figures are given to three digits (all digits: figures.json); one without ± is surer than its digits show. All this is "
      "the "
      "chance in the tracing only. It says nothing of how well the project file fits the real dish, {} and target.",
      scene.lamp ? "lamp" : "sun");
  if (detail == Detail::method)
    text += fmt::format(
        " The paths (method rays) were traced in {} replicates, each with its own random numbers; the standard error is found by "
        "leaving out one replicate after the other.",
        figures.replicates);
  return out + wrapped(text, "  ", "  ");
}

}  // namespace

std::string summary(const Scene& scene, const std::string& scene_name, const std::string& digest, const TraceFigures& figures,
                    Units units, Detail detail, const LightStory* story) {
  std::string out = title_block(scene, scene_name, units);
  if (figures.caught_share) {
    out += "\n" + wrapped(fmt::format("{} of the lamp's light meets {} first.", percent_text(*figures.caught_share),
                                      mirrors_words(scene)),
                          "", "  ");
  }
  for (std::size_t k = 0; k < figures.targets.size(); ++k) {
    out += target_block(scene, figures, figures.targets[k], units);
    for (const std::string& note : figure_notes(figures.targets[k])) out += wrapped(note, "Note: ", "  ");
    if (const std::string note = wave_limit_note(scene, figures, k); !note.empty()) out += wrapped(note, "Note: ", "  ");
  }
  out += ledger_block(scene, figures);
  if (story != nullptr) {
    out += summary_heading("Why");
    for (const std::string& line : why_lines(scene, figures, 0, units, story)) out += wrapped(line, "  ", "  ");
  }
  out += certainty_block(scene, figures, detail);
  out += "\n" + caution(figures, safety_page);
  if (figures.keep_clear) out += wrapped(keep_clear_words(figures, units), "KEEP CLEAR: ", "  ");
  return out + "\n" + wrapped(settings_line(scene, figures, digest, detail), "", "  ");
}

std::string trace_answer(const Scene& scene, const TraceFigures& figures, Units units) {
  constexpr std::size_t most = 8;
  std::string out = answer_heading("Answer", scene.oddities);
  const std::size_t told = std::min(most, figures.targets.size());
  for (std::size_t k = 0; k < told; ++k) out += wrapped(answer(scene, figures, figures.targets[k], units), "  ", "    ");
  if (told < figures.targets.size()) out += fmt::format("  {} more targets: above.\n", figures.targets.size() - told);
  return out + mind_caution_line();
}

}  // namespace dishwright
