// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/waves/wave_compare.h"
#include "report/waves/wave_pictures.h"
#include "report/waves/wave_words.h"

namespace dishwright {

namespace {

constexpr std::size_t most_maps = 9;

WorkCard card_of(const WaveComparison& all, const std::string& name, const std::string& sheet) {
  const WaveContestant& first = all.contestants.front();
  const bool bent = !first.rule.empty();
  std::string names;
  for (const WaveContestant& one : all.contestants) names += (names.empty() ? "" : ", ") + one.name;
  WorkCard card;
  card.title = {{"Project", bent ? scene_title(first.scene, name) : names},
                {"Target", first.scene.targets.front().name},
                {"Compared", fmt::format("{} {}", all.contestants.size(), bent ? "shapes of one width" : "files")},
                {"Sheet", sheet}};
  card.name = fmt::format("{}: {}", card.title.front().value, sheet);
  card.answer = wave_verdict(all);
  card.cautions = {wave_caution_line(first.figures.radio)};
  card.settings = {wave_settings_line(first.figures.convergence.points, first.figures.speed, scene_digest(first.scene))};
  return card;
}

/// Adds a line, without what is no number.
void add_line(LineChart& chart, const std::string& label, const std::vector<double>& x, double scale,
              const std::function<double(std::size_t)>& level, double lowest) {
  ChartLine line;
  line.label = label;
  for (std::size_t k = 0; k < x.size(); ++k) {
    if (std::isnan(level(k)) || level(k) == INFINITY) continue;
    line.x.push_back(x[k] * scale), line.y.push_back(std::max(level(k), lowest));
  }
  if (!line.x.empty()) chart.lines.push_back(std::move(line));
}

/// The highest level of all lines [dB].
double top_of(const LineChart& chart, double least) {
  for (const ChartLine& line : chart.lines) {
    for (const double y : line.y) least = std::max(least, y);
  }
  return least;
}

LineChart sound_chart(const WaveComparison& all) {
  LineChart chart;
  chart.x_label = "frequency [kHz]", chart.y_label = "gain [dB]", chart.x_log = true;
  chart.y_from = -15;
  for (const WaveContestant& one : all.contestants) {
    const auto& gains = one.figures.curve.gains;
    add_line(
        chart, one.name, one.figures.curve_frequencies, 1e-3, [&](std::size_t k) { return gains[k].gain; }, -60);
  }
  chart.x_from = all.first().curve_frequencies.front() / 1e3, chart.x_to = all.first().curve_frequencies.back() / 1e3;
  chart.y_to = up_to_five(top_of(chart, 0) + 1);
  return chart;
}

LineChart radio_chart(const WaveComparison& all, double frequency) {
  LineChart chart;
  chart.x_label = "angle from the axis [deg]", chart.y_label = "level [dBi]";
  constexpr double degrees = 180 / std::numbers::pi;
  for (const WaveContestant& one : all.contestants) {
    for (const WavePattern& pattern : one.figures.patterns) {
      if (pattern.frequency != frequency) continue;
      add_line(
          chart, one.name, pattern.angles, degrees, [&](std::size_t k) { return pattern.levels[k]; }, -200);
      chart.x_from = pattern.angles.front() * degrees, chart.x_to = pattern.angles.back() * degrees;
    }
  }
  const double top = top_of(chart, -200);
  chart.y_to = up_to_five(top + 1), chart.y_from = down_to_five(top - pattern_depth);
  return chart;
}

MapGrid wave_maps(const WaveComparison& all, Units units) {
  const std::size_t scenes = all.contestants.size();
  const bool every = scenes * all.mapped.size() <= most_maps;
  MapGrid grid;
  grid.unit = "dB", grid.columns = every && all.mapped.size() > 1 ? static_cast<int>(scenes) : 0;
  double top = 0;
  for (std::size_t m = 0; m < all.mapped.size(); ++m) {
    const std::size_t frequency = all.mapped[m];
    if (!every && frequency != all.first().shown) continue;
    for (const WaveContestant& one : all.contestants) {
      const WaveAnswer& answer = one.figures.targets.front().answers[frequency];
      MapPanel panel = wave_map_panel(one.maps[m], units);
      panel.heading = fmt::format("{}: {}", one.name, level_text(answer.gain, gain_unit(one.figures)));
      panel.y_label = fmt::format("{}, {}", frequency_text(all.first().frequencies[frequency]), panel.y_label);
      panel.x_label += fmt::format(", {:.3g} {} across", panel.face.width(), length_unit(units));
      for (MapCircle& circle : panel.circles) circle.label.clear();  // told at the foot, for the maps are small
      top = std::max(top, one.maps[m].peak);
      grid.panels.push_back(std::move(panel));
    }
  }
  grid.tops = {std::max(5.0, up_to_five(top))};
  return grid;
}

}  // namespace

WorkCard wave_compare_maps(const WaveComparison& all, const std::string& name, Units units) {
  WorkCard card = card_of(all, name, "maps");
  card.question = fmt::format("How strong is it around the {}?", all.contestants.front().scene.targets.front().name);
  card.notes = {
      "Counted from the wave without a mirror, 0 dB; fainter places are left white. Circle: half the power of "
      "the strongest place. Beside each name: the gain."};
  card.pictures = {{wave_maps(all, units)}};
  return card;
}

WorkCard wave_compare_chart(const WaveComparison& all, const std::string& name) {
  const bool radio = all.first().radio;
  WorkCard card = card_of(all, name, radio ? "directions" : "gain");
  if (radio) {
    const double frequency = all.first().frequencies[all.first().shown];
    card.question = fmt::format("How narrow is the beam of each at {}?", frequency_text(frequency));
    card.notes = {"0 dBi: as strong as the same power sent evenly to all sides."};
    card.pictures = {{radio_chart(all, frequency)}};
  } else {
    card.question = fmt::format("How much louder is it at the {}, and from which pitch on?",
                                all.contestants.front().scene.targets.front().name);
    card.notes = {"0 dB: as loud as without a mirror. Mirror and straight wave together."};
    card.pictures = {{sound_chart(all)}};
  }
  return card;
}

}  // namespace dishwright
