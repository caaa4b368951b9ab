// SPDX-License-Identifier: MIT
#include "report/summary.h"

#include <fmt/core.h>

#include <algorithm>
#include <vector>

#include "report/caution.h"
#include "report/provenance.h"
#include "report/scene_words.h"
#include "report/text_layout.h"
#include "report/text_map.h"

namespace dishwright {

namespace {

constexpr int label_width = 32;

std::string line(const std::string& label, const std::string& text) {
  return wrapped(text, "  " + flush_left(label, label_width - 2), std::string(label_width, ' '));
}

std::string heading(const std::string& text) { return "\n" + text + "\n"; }

std::string title_block(const Scene& scene, const std::string& scene_name, Units units) {
  const std::string title = scene.title.empty() ? scene_name : scene.title;
  std::string out = title + "\n" + std::string(static_cast<std::size_t>(std::min(text_width, characters(title))), '=') + "\n";
  out += wrapped(sun_words(scene.sun), "Sun: ", "  ");
  for (const Reflector& mirror : scene.reflectors) out += wrapped(reflector_words(mirror, units), "Mirror " + mirror.name + ": ", "  ");
  for (const Target& target : scene.targets) out += wrapped(target_words(target, units), "Target " + target.name + ": ", "  ");
  for (const std::string& note : scene.notes) out += wrapped(note, "Note: ", "  ");
  return out;
}

std::string brightness_lines(const TargetFigures& target, Units units) {
  std::string out;
  if (target.peak_irradiance) {
    std::string text = number_text(*target.peak_irradiance, units);
    if (target.peak_concentration) text += " = " + number_text(*target.peak_concentration, units) + " suns";
    out += line("Brightest spot", text);
  }
  if (target.mean_irradiance) {
    const std::string area = number_text({target.area, std::nullopt, "m2"}, units);
    out += line("Mean over its " + area, number_text(*target.mean_irradiance, units));
  }
  return out;
}

std::string spot_lines(const TargetFigures& target, Units units) {
  const bool band = target.shape == "rectangle";
  const std::string width = band ? "a band {} wide" : "a circle {} across";
  const auto within = [&](const Estimate& size) { return fmt::format(fmt::runtime(width), number_text(size, units)); };
  std::string out;
  if (target.spot_width_50) out += line("Half of the light is within", within(*target.spot_width_50));
  if (target.spot_width_90) out += line("90 % of the light is within", within(*target.spot_width_90));
  if (target.spot_rms_radius) out += line("Rms radius on the target", number_text(*target.spot_rms_radius, units));
  if (target.centroid) {
    out += line("Centre of the light", fmt::format("x {}, y {}", number_text((*target.centroid)[0], units), number_text((*target.centroid)[1], units)));
  }
  return out;
}

/// The answer first, then the figures and the picture.
std::string target_block(const Scene& scene, const TraceFigures& figures, const TargetFigures& target, Units units) {
  const std::string mirrors = mirrors_words(scene);
  std::string out = "\n" + wrapped(fmt::format("{} of the {} that meet {}.", number_text(target.power, units), number_text(figures.aperture_power, units), mirrors),
                                   "Light on the " + target.name + ": ", "  ");
  if (target.intercept) out += line("Share of the mirror light caught", percent_text(*target.intercept));
  out += brightness_lines(target, units);
  out += spot_lines(target, units);
  if (target.direct_power.value > 0) out += line("Straight from the sun", number_text(target.direct_power, units) + " (extra, not in the numbers above)");
  const MapFace* face = hottest_face(target);
  if (face == nullptr) return out + "  No mirror light lands here, so there is no picture.\n";
  return out + "\n" + wrapped(fmt::format("Where it lands on the {} ({}), seen from the sun's side:", target.name, face->name), "  ", "  ") + text_map(target, units);
}

std::string percent_of(double part, double whole) {
  if (!(whole > 0)) return "-";
  const double percent = 100 * part / whole;
  return percent > 0 && percent < 0.05 ? "<0.1" : fmt::format("{:.1f}", percent);
}

struct LedgerRow {
  std::string where, value, error, percent;
};

std::vector<LedgerRow> ledger_rows(const TraceFigures& figures) {
  double sum = 0;
  for (const LedgerLine& entry : figures.ledger) sum += entry.power.value;
  const auto row = [&](const std::string& where, const Estimate& power) {
    const NumberParts parts = number_parts(power);
    const std::string power_of_ten = parts.power_of_ten == 0 ? "" : fmt::format(" × 10^{}", parts.power_of_ten);
    return LedgerRow{where, parts.value, (parts.error.empty() ? "" : " ± " + parts.error) + power_of_ten, percent_of(power.value, sum)};
  };
  std::vector<LedgerRow> rows = {{"", "W", "", "%"}};
  for (const LedgerLine& entry : figures.ledger) {
    const bool target = std::any_of(figures.targets.begin(), figures.targets.end(), [&](const TargetFigures& t) { return t.name == entry.where; });
    rows.push_back(row(target ? "landed on " + entry.where : entry.where, entry.power));
  }
  rows.push_back(row("in all", {sum, figures.aperture_power.std_error, "W"}));
  return rows;
}

std::string ledger_block(const Scene& scene, const TraceFigures& figures) {
  const std::vector<LedgerRow> rows = ledger_rows(figures);
  int where = 0, value = 0, error = 0;
  for (const LedgerRow& row : rows) {
    where = std::max(where, characters(row.where));
    value = std::max(value, characters(row.value));
    error = std::max(error, characters(row.error));
  }
  std::string out = heading("Where the light that meets " + mirrors_words(scene) + " went");
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const LedgerRow& row = rows[i];
    if (i + 1 == rows.size()) out += "  " + std::string(static_cast<std::size_t>(where + value + error + 10), '-') + "\n";
    out += "  " + flush_left(row.where, where) + "  " + flush_right(row.value, value) + flush_left(row.error, error) + flush_right(row.percent, 8) + "\n";
  }
  return out;
}

std::string certainty_block(const TraceFigures& figures) {
  std::string out = heading("How sure are these numbers?");
  if (figures.replicates < 2) return out + wrapped("Only one replicate was traced, so there is no ±. Trace more paths.", "  ", "  ");
  const auto times = [](int freedom) { return exact_text(student_quantile(0.95, freedom)); };
  std::string text = fmt::format("A number ± its error: the answer for endless paths lies within 1 × the error in 68 of 100 runs, and within {} × in 95 of 100",
                                 times(figures.replicates - 1));
  const int peak_freedom = figures.replicates / 2 - 1;
  text += peak_freedom >= 1 ? fmt::format(" (brightest spot: {} ×).", times(peak_freedom)) : ".";
  text += " A number without ± is exact. The ± tells only the chance in the tracing. It says nothing of how well the project file fits the real dish, sun and target.";
  return out + wrapped(text, "  ", "  ");
}

}  // namespace

std::string summary(const Scene& scene, const std::string& scene_name, const std::string& digest, const TraceFigures& figures, Units units) {
  std::string out = title_block(scene, scene_name, units);
  for (const TargetFigures& target : figures.targets) out += target_block(scene, figures, target, units);
  const bool any_peak = std::any_of(figures.targets.begin(), figures.targets.end(), [](const TargetFigures& t) { return t.peak_concentration.has_value(); });
  if (any_peak) out += "\n" + wrapped(fmt::format("1 sun here is the beam itself, {} W/m².", exact_text(figures.beam)), "  ", "  ");
  out += ledger_block(scene, figures);
  out += certainty_block(figures);
  out += "\n" + caution(figures);
  return out + "\n" + wrapped(settings_line(scene, figures, digest), "", "  ");
}

}  // namespace dishwright
