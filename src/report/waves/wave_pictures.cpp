// SPDX-License-Identifier: MIT
#include "report/waves/wave_pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "report/numbers/scene_words.h"
#include "report/waves/wave_help_words.h"
#include "report/waves/wave_words.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

std::string source_word(const WaveResult& result) { return result.figures.radio ? "Radio" : "Sound"; }

/// A card with what all cards of waves say.
WorkCard card_of(const WaveResult& result, const std::string& sheet, const std::string& note) {
  WorkCard card;
  card.title = wave_title_cells(result, sheet);
  card.name = fmt::format("{}: {}", card.title.front().value, sheet);
  card.notes = {note}, card.cautions = {wave_caution_line(result.figures.radio, result.figures.sends)};
  card.settings = {wave_settings_line(result.figures.convergence.points, result.figures.speed, result.digest)};
  return card;
}

/// The level of the higher of the two maps' highest places, and where it is.
std::string strongest_words(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  const auto& best = figures.details[figures.shown].best;
  if (best) return fmt::format("{} at {}", level_text(best->gain.gain), wave_place_text(best->place, result.units));
  const WaveMap& map = figures.axial_map->peak > figures.map->peak ? *figures.axial_map : *figures.map;
  if (!finite(map.peak)) return level_text(std::nullopt);
  const Vector3 place = map.plane.middle + map.peak_x * map.plane.across + map.peak_y * map.plane.up;
  return fmt::format("{} at {}", level_text(map.peak), wave_place_text(place, result.units));
}

std::vector<CardEntry> map_numbers(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  const WaveMap& map = *figures.map;
  const WaveAnswer& answer = figures.targets.front().answers[figures.shown];
  std::vector<CardEntry> out;
  out.push_back({"Frequency of this map", frequency_text(map.frequency)});
  out.push_back({"Wavelength", wave_length_text(figures.speed / map.frequency, result.units)});
  out.push_back(
      {figures.radio ? "Gain with the feed in the middle" : "Gain in the middle", level_text(answer.gain, gain_unit(figures))});
  if (answer.radio)
    out.push_back({"Share of the most that its area allows", rough_text(100 * answer.radio->aperture_efficiency, 3) + " %"});
  const char* const strongest = figures.radio   ? "Strongest place of the maps"
                                : figures.sends ? "Best place on the maps"
                                                : "Loudest place of the maps";
  out.push_back({strongest, strongest_words(result)});
  if (map.whole)
    out.push_back({"Half the power: a spot (circle) of width", wave_length_text(map.half_power_width, result.units)});
  if (answer.half_power_width) out.push_back({"Beam at half the power", angle_text(*answer.half_power_width)});
  for (const MissCost& miss : figures.details[figures.shown].misses)
    if (miss.loss) out.push_back({fmt::format("Lost when {}", miss.what), level_text(miss.loss)});
  return out;
}

double highest(const std::vector<double>& levels, double least) {
  for (const double level : levels) {
    if (std::isfinite(level)) least = std::max(least, level);
  }
  return least;
}

}  // namespace

MapPanel wave_map_panel(const WaveMap& map, Units units, const std::string& up) {
  const double scale = lengths_per_metre(units);
  MapPanel panel;
  panel.x_label = fmt::format("{} [{}]", map.turned ? "aside" : "x", length_unit(units)),
  panel.y_label = fmt::format("{} [{}]", up, length_unit(units));
  panel.columns = map.plane.columns, panel.rows = map.plane.rows;
  for (const double level : map.levels) panel.values.push_back(std::max(0.0, level));
  panel.face = {-scale * map.plane.half_width, scale * map.plane.half_width, -scale * map.plane.half_height,
                scale * map.plane.half_height};
  panel.view = panel.face;
  if (map.whole && up == "y")
    panel.circles = {{scale * map.peak_x, scale * map.peak_y, scale * map.half_power_width, "half power", MarkLine::solid}};
  return panel;
}

std::vector<CardEntry> wave_title_cells(const WaveResult& result, const std::string& sheet) {
  const std::string words = frequencies_words(result.figures.frequencies);
  return {{"Project", scene_title(result.scene, result.name)},
          {"Target", result.figures.targets.front().name},
          {source_word(result), words.substr(0, words.find(" ("))},  // without their number
          {"Sheet", sheet}};
}

MapPicture wave_map_picture(const WaveResult& result) {
  const WaveMap &focal = *result.figures.map, &axial = *result.figures.axial_map;
  MapPicture picture;
  for (const auto& [map, up, way] : {std::tuple(&focal, "y", "across the axis"), {&axial, "z", "along the axis"}}) {
    picture.panels.push_back(wave_map_panel(*map, result.units, up));
    picture.panels.back().heading =
        fmt::format("{} wide about the {}, {}{}", wave_length_text(2 * map->plane.half_width, result.units),
                    result.figures.targets.front().name, way, map->turned ? ", toward the loudest place" : "");
  }
  picture.unit = "dB";
  picture.top = std::max(0.0, up_to_five(std::max(focal.peak, axial.peak)));
  picture.empty = "no place is louder";
  return picture;
}

WorkCard wave_map_card(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  const WaveMap &focal = *figures.map, &axial = *figures.axial_map;
  std::string first = "The map counts from the wave without a mirror, 0 dB; fainter places are left white.";
  const double change = std::max(focal.convergence.reached ? 0 : focal.convergence.change,
                                 axial.convergence.reached ? 0 : axial.convergence.change);
  if (change > 0) first += fmt::format(" Its sum did not settle: good to about {:.1g} of the strongest amplitude.", change);
  if (figures.sends) first = "By the speaker's place: " + first;
  WorkCard card = card_of(result, "wave map", first);
  const std::string name = figures.targets.front().name;
  card.question = fmt::format("How much louder is it around the {}?", name);
  if (figures.radio) card.question = fmt::format("How strong is the wave around the {}?", name);
  if (figures.sends) card.question = fmt::format("Where should the {} stand to be heard far away?", name);
  const double peak = std::max(focal.peak, axial.peak);
  card.answer = peak > 0 ? fmt::format("up to {} {}, at {}", level_text(peak),
                                       figures.sends ? "more far away than without a mirror" : "above the wave without a mirror",
                                       frequency_text(focal.frequency))
                         : "nowhere stronger than without a mirror";
  card.pictures = {{wave_map_picture(result)}};
  card.numbers = {{"", map_numbers(result)}};
  return card;
}

WorkCard gain_card(const WaveResult& result) {
  WorkCard card = card_of(result, "gain", "0 dB: as loud as without a mirror.");
  card.question = fmt::format("From which pitch on does {} {} the {}?", mirrors_words(result.scene),
                              result.figures.sends ? "carry the sound of" : "help at", result.figures.targets.front().name);
  card.answer = helps_line(result.scene, result.figures);
  const std::string all = helps_words(result.scene, result.figures), quieter = cancelled_words(result.figures);
  if (all.size() > card.answer.size() + 1) card.notes.insert(card.notes.begin(), all.substr(card.answer.size() + 1));
  if (!quieter.empty()) card.notes.insert(card.notes.begin(), quieter);
  card.pictures = {{gain_chart(result)}};
  return card;
}

WorkCard pattern_card(const WaveResult& result) {
  const bool radio = result.figures.radio;
  WorkCard card = card_of(result, "directions",
                          radio ? "0 dBi: as strong as the same power sent evenly to all sides."
                                : "0 dB: as loud as without a mirror; what the mirror sends, without the straight wave.");
  card.question = radio                  ? "How narrow is the beam?"
                  : result.figures.sends ? "How narrow does the dish send?"
                                         : "How narrow does the dish hear?";
  card.answer = beam_words(result.figures);
  LineChart chart = pattern_chart(result);
  if (!radio) chart.form = ChartForm::half_circle;
  card.pictures = {{std::move(chart)}};
  return card;
}

LineChart gain_chart(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  LineChart chart;
  chart.x_label = "frequency [kHz]", chart.y_label = "gain [dB]";
  chart.x_log = true;
  chart.x_from = figures.curve_frequencies.front() / 1e3, chart.x_to = figures.curve_frequencies.back() / 1e3;
  ChartLine both, mirror;
  both.label = "mirror and straight wave", mirror.label = "by the mirror alone";
  for (std::size_t k = 0; k < figures.curve.gains.size(); ++k) {
    const WaveGain& gain = figures.curve.gains[k];
    const auto add = [&](ChartLine& line, double level) {
      if (std::isfinite(level)) line.x.push_back(figures.curve_frequencies[k] / 1e3), line.y.push_back(level);
    };
    add(both, gain.gain), add(mirror, gain.reflected_gain);
  }
  chart.y_from = -15, chart.y_to = up_to_five(highest(mirror.y, highest(both.y, 0)) + 1);
  const bool any = !both.y.empty() || !mirror.y.empty();
  if (any) chart.lines = {std::move(both), std::move(mirror)};
  const auto& bands = figures.help.bands;
  if (!bands.empty() && bands.back().to >= figures.curve_frequencies.back() &&
      bands.back().from > figures.curve_frequencies.front())
    chart.marks.push_back({bands.back().from / 1e3, "helps from here up"});
  return chart;
}

LineChart pattern_chart(const WaveResult& result) {
  const WaveFigures& figures = result.figures;
  LineChart chart;
  chart.x_label = "angle from the axis [deg]", chart.y_label = fmt::format("level [{}]", gain_unit(figures));
  double top = -INFINITY;
  for (const WavePattern& pattern : figures.patterns) top = highest(pattern.levels, top);
  if (!std::isfinite(top)) top = 0;
  chart.y_to = up_to_five(top + 1), chart.y_from = down_to_five(top - pattern_depth);
  constexpr double degrees = 180 / std::numbers::pi;
  for (const WavePattern& pattern : figures.patterns) {
    ChartLine line;
    line.label = frequency_text(pattern.frequency);
    for (std::size_t k = 0; k < pattern.angles.size(); ++k) {
      line.x.push_back(pattern.angles[k] * degrees);
      line.y.push_back(std::max(pattern.levels[k], chart.y_from - 10));
    }
    chart.lines.push_back(std::move(line));
  }
  chart.x_from = chart.lines.front().x.front(), chart.x_to = chart.lines.front().x.back();
  return chart;
}

}  // namespace dishwright
