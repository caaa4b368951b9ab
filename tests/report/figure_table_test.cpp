// SPDX-License-Identifier: MIT
// Every row of the one table of figures: its label, unit and getter in JSON, CSV, text, card and sweep. Each figure has a value
// of its own, so that a getter which reads a neighbour's shows.
#include "result/figure_table.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <numbers>
#include <set>
#include <sstream>

#include "approx.h"
#include "figures_sample.h"
#include "report/compare/compare_data.h"
#include "report/sweep/sweep_data.h"
#include "report/sweep/sweep_words.h"
#include "report/trace/figures_json.h"
#include "report/trace/map_card.h"
#include "report/trace/summary.h"
#include "report/waves/wave_compare.h"
#include "report/waves/wave_json.h"
#include "study/wave_answer.h"
#include "wave_sample.h"

using namespace dishwright;

namespace {

constexpr double degree = 180 / std::numbers::pi, inches = 1 / 0.0254;

/// What is expected of a row: by hand, not from the table.
struct Expected {
  const char *name, *label, *si_unit, *printed;
  double per_si, value;
};

const std::vector<Expected>& of_light() {
  static const std::vector<Expected> all = {
      {"power", "power", "W", "W", 1, 101},
      {"direct_power", "straight light", "W", "W", 1, 102},
      {"intercept", "share caught", "1", "%", 100, 0.104},
      {"peak_irradiance", "brightest spot", "W/m2", "kW/m²", 1e-3, 105e3},
      {"peak_concentration", "brightest spot", "1", "suns", 1, 106},
      {"mean_irradiance", "mean light", "W/m2", "kW/m²", 1e-3, 107},
      {"spot_width_50", "circle of half the light", "m", "in", inches, 0.109},
      {"spot_width_90", "circle of 90 % of the light", "m", "in", inches, 0.112},
      {"spot_rms_radius", "rms radius of the spot", "m", "in", inches, 0.113},
  };
  return all;
}
const std::vector<Expected>& of_lamp() {
  static const std::vector<Expected> all = {
      {"total_power", "mirror and straight light", "W", "W", 1, 103},
      {"evenness", "evenness", "1", "", 1, 0.108},
  };
  return all;
}
const std::vector<Expected>& of_sound() {
  static const std::vector<Expected> all = {
      {"gain", "gain", "dB", "dB", 1, 12.1},
      {"reflected_gain", "gain by the mirror alone", "dB", "dB", 1, 12.2},
      {"half_power_width", "beam at half the power", "rad", "deg", degree, 0.21},
      {"side_lobe", "strongest side lobe", "dB", "dB", 1, -13.5},
  };
  return all;
}
const std::vector<Expected>& of_radio() {
  static const std::vector<Expected> all = {
      {"gain", "gain", "dBi", "dBi", 1, 12.1},
      {"aperture_efficiency", "aperture efficiency", "1", "%", 100, 0.41},
      {"spillover", "share caught of the feed's power", "1", "%", 100, 0.42},
      {"taper", "share kept in spite of the taper", "1", "%", 100, 0.43},
      {"phase", "share kept in spite of unequal ways", "1", "%", 100, 0.44},
      {"surface", "share kept in spite of the flaws of the surface", "1", "%", 100, 0.45},
      {"blockage", "share kept in spite of the shadow", "1", "%", 100, 0.46},
      {"reflection", "share of the power that the skin reflects", "1", "%", 100, 0.47},
      {"half_power_width", "beam at half the power", "rad", "deg", degree, 0.21},
      {"side_lobe", "strongest side lobe", "dB", "dB", 1, -13.5},
  };
  return all;
}

TargetFigures light_target() {
  TargetFigures target = sample::kettle_figures().targets[0];
  const auto made = [](double value, const char* unit) { return Estimate{value, value / 1000, unit}; };
  target.power = made(101, "W"), target.direct_power = made(102, "W"), target.total_power = made(103, "W");
  target.intercept = made(0.104, "1");
  target.peak_irradiance = made(105e3, "W/m2"), target.peak_concentration = made(106, "1"),
  target.mean_irradiance = made(107, "W/m2");
  target.evenness = made(0.108, "1");
  target.spot_width_50 = made(0.109, "m"), target.spot_width_90 = made(0.112, "m"), target.spot_rms_radius = made(0.113, "m");
  return target;
}

WaveAnswer wave_target(bool radio) {
  WaveAnswer answer;
  answer.gain = 12.1, answer.half_power_width = 0.21, answer.side_lobe = -13.5;
  if (!radio) answer.reflected_gain = 12.2;
  if (!radio) return answer;
  answer.radio = RadioFigures{};
  answer.radio->aperture_efficiency = 0.41, answer.radio->spillover = 0.42, answer.radio->taper = 0.43,
  answer.radio->phase = 0.44;
  answer.radio->surface = 0.45, answer.radio->blockage = 0.46, answer.radio->reflection = 0.47;
  return answer;
}

Scene lamp_scene() {
  Scene scene = sample::kettle_scene();
  scene.lamp = Lamp{BallLamp{0.02}, {}, 100, false};
  return scene;
}

std::vector<std::string> cells(const std::string& line) {
  std::vector<std::string> out;
  std::istringstream stream(line);
  for (std::string cell; std::getline(stream, cell, ',');) out.push_back(cell);
  return out;
}

/// Checks the column of a figure in a table whose first line is the head: its name with the printed unit, and the value below.
void check_column(const std::string& csv, const Expected& row) {
  std::istringstream lines(csv);
  std::string head, first;
  std::getline(lines, head), std::getline(lines, first);
  std::string unit = *row.printed == 0 ? "1" : row.printed;
  if (unit == "kW/m²") unit = "kW/m2";
  const std::vector<std::string> heads = cells(head), values = cells(first);
  const auto at = std::find(heads.begin(), heads.end(), fmt::format("{} [{}]", row.name, unit));
  REQUIRE(at != heads.end());
  CHECK(std::stod(values[static_cast<std::size_t>(at - heads.begin())]) == testing::approx(row.value * row.per_si).epsilon(1e-5));
}

Sweep sweep_of(const Scene& scene, const std::vector<Expected>& rows) {
  Sweep sweep;
  sweep.scene = scene, sweep.target = scene.targets[0].name;
  sweep.axes = {{"reflector.dish.dirt", Dimension::number, "1", nullptr, {0, 1}}};
  SweepPoint point{{0}, {}, "rays"};
  for (const FigureRow& row : sweep_rows(scene)) {
    for (const Expected& one : rows) {
      if (row.name == one.name) point.figures.emplace_back(one.name, Estimate{one.value, std::nullopt, one.si_unit});
    }
  }
  sweep.points = {point, point};
  return sweep;
}

void check_words(const Expected& row, const Scene& scene) {
  CAPTURE(row.name);
  const FigureRow* found = find_figure(row.name);
  REQUIRE(found != nullptr);
  const FigureWords words = figure_words(*found, scene, false, Units::us);
  CHECK(words.name == row.name);
  CHECK(words.words == row.label);
  CHECK(words.unit == row.printed);
  CHECK(words.per_si == testing::approx(row.per_si));
}

void check_sweep_of(const Scene& scene, const std::vector<Expected>& rows) {
  const Sweep sweep = sweep_of(scene, rows);
  const std::string csv = sweep_csv(sweep, Units::us);
  const auto json = nlohmann::json::parse(sweep_json(sweep, "x"))["points"][0]["figures"];
  CHECK(json.size() == sweep_rows(scene).size());
  for (const FigureRow& row : sweep_rows(scene)) {
    const auto one = std::find_if(rows.begin(), rows.end(), [&](const Expected& each) { return row.name == each.name; });
    REQUIRE(one != rows.end());
    CAPTURE(one->name);
    check_column(csv, *one);
    CHECK(json[one->name]["value"] == one->value);
    CHECK(json[one->name]["unit"] == one->si_unit);
  }
}

}  // namespace

TEST_CASE("the table of figures: in the order of its enumerators, every name once, every row expected here") {
  std::set<std::string> names, expected;
  for (std::size_t k = 0; k < all_figures().size(); ++k) {
    CHECK(static_cast<std::size_t>(all_figures()[k].figure) == k);
    CHECK(names.insert(std::string(all_figures()[k].name)).second);
    CHECK(&row_of(all_figures()[k].figure) == &all_figures()[k]);
  }
  CHECK(static_cast<std::size_t>(Figure::side_lobe) + 1 == all_figures().size());
  for (const auto* list : {&of_light(), &of_lamp(), &of_sound(), &of_radio()}) {
    for (const Expected& row : *list) expected.insert(row.name);
  }
  CHECK(names == expected);
  CHECK(find_figure("surfaces") == nullptr);
}

TEST_CASE("figures of light: getter, words, JSON, CSV, sweep") {
  const TargetFigures target = light_target();
  TraceFigures figures = sample::kettle_figures();
  figures.targets = {target};
  const Scene scene = sample::kettle_scene();
  const auto json = figures_json(scene, "x", "0", figures)["targets"][target.name];
  const auto lit = figures_json(lamp_scene(), "x", "0", figures)["targets"][target.name];
  Comparison two;
  two.contestants = {{"a", "", scene, {}, figures}, {"b", "", scene, {}, figures}};
  const std::string csv = compare_csv(two, Units::us);
  for (const Expected& row : of_light()) {
    check_words(row, scene);
    CHECK(light_figure(target, row.name)->value == row.value);
    CHECK(wave_figure(wave_target(true), find_figure(row.name)->figure) == std::nullopt);
    for (const auto& each : {json, lit}) CHECK(each[row.name]["value"] == row.value);
    CHECK(json[row.name]["unit"] == row.si_unit);
    if (find_figure(row.name)->compared) check_column(csv, row);
  }
  for (const Expected& row : of_lamp()) {
    check_words(row, scene);
    CHECK(light_figure(target, row.name)->value == row.value);
    CHECK(lit[row.name]["value"] == row.value);
    CHECK_FALSE(json.contains(row.name));
  }
  check_sweep_of(scene, of_light());
  CHECK_FALSE(light_figure(target, Figure::gain).has_value());
}

TEST_CASE("figures of light in the text and on the card: the label of the row before its own number") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets = {light_target()};
  const Scene scene = sample::kettle_scene();
  const std::string text = summary(scene, "x", "0", figures, Units::us);
  const WorkCard card = map_card({scene, "x", "0", figures, Units::us}, 0);
  std::string entries;
  for (const CardBlock& block : card.numbers) {
    if (const auto* list = std::get_if<std::vector<CardEntry>>(&block.body))
      for (const CardEntry& one : *list) entries += one.label + "|" + one.value + "\n";
  }
  const auto holds = [](const std::string& all, const std::string& label, const std::string& number) {
    const std::size_t at = all.find(label);
    if (label.empty() || at == std::string::npos) return false;
    return all.substr(at, all.find('\n', at) - at).find(number) != std::string::npos;
  };
  struct Shown {
    Figure figure;
    const char* number;
    bool in_text;
  };
  // To three digits: 0.109 m = 4.29 in, 0.112 m = 4.41 in, 0.113 m = 4.45 in.
  for (const Shown& one : {Shown{Figure::intercept, "10.4", true}, Shown{Figure::peak_irradiance, "105", true},
                           Shown{Figure::peak_concentration, "106", false}, Shown{Figure::evenness, "0.108", true},
                           Shown{Figure::spot_width_50, "4.29", true}, Shown{Figure::spot_width_90, "4.41", true}}) {
    CAPTURE(row_of(one.figure).name);
    if (one.in_text) CHECK(holds(text, with_outline(row_of(one.figure).line, false), one.number));
    CHECK(holds(entries, with_outline(row_of(one.figure).card, false), one.number));
  }
  CHECK(holds(text, "Rms radius on the target", "4.45"));
  CHECK(holds(text, "Mirror and straight light", "103"));
}

TEST_CASE("figures of sound and radio: getter, words, JSON, CSV, sweep") {
  for (const bool radio : {false, true}) {
    CAPTURE(radio);
    const std::vector<Expected>& rows = radio ? of_radio() : of_sound();
    Scene scene = radio ? sample::radio_scene() : sample::sound_scene();
    WaveFigures figures = radio ? sample::radio_figures() : sample::sound_figures();
    figures.frequencies = {1000}, figures.shown = 0, figures.details.resize(1);
    const WaveAnswer answer = wave_target(radio);
    figures.targets[0].answers = {answer};
    const auto json = wave_json(scene, "x", "0", figures)["targets"][figures.targets[0].name];
    WaveComparison two;
    two.contestants = {{"a", "", scene, figures, {}}, {"b", "", scene, figures, {}}};
    const std::string csv = wave_compare_csv(two);
    for (const Expected& row : rows) {
      check_words(row, scene);
      const Figure figure = find_figure(row.name)->figure;
      REQUIRE(wave_figure(answer, figure));
      CHECK(wave_figure(answer, figure)->value == row.value);
      CHECK(json[row.name]["value"] == row.value);
      CHECK(json[row.name]["unit"] == row.si_unit);
      CHECK_FALSE(light_figure(light_target(), figure).has_value());
      check_column(csv, row);
    }
    check_sweep_of(scene, rows);
  }
}
