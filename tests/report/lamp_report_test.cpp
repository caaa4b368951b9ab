// SPDX-License-Identifier: MIT
// What is printed and written of a lamp scene: units everywhere, no sun anywhere.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "approx.h"
#include "figures_sample.h"
#include "report/numbers/caution.h"
#include "report/numbers/light_units.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "report/numbers/text_layout.h"
#include "report/trace/figures_json.h"
#include "report/trace/map_card.h"
#include "report/trace/map_csv.h"
#include "report/trace/summary.h"
#include "report/trace/why.h"

using namespace dishwright;
using sample::inch;

namespace {

Scene yard_scene(bool in_lumens) {
  Scene scene = sample::kettle_scene();
  scene.title = "Yard lamp";
  scene.lamp = Lamp{BallLamp{2 * inch}, {Vector3(0, 0, 24 * inch), Matrix3::Identity()}, in_lumens ? 800.0 : 60.0, in_lumens};
  scene.targets[0].name = "wall";
  scene.targets[0].pose.at.z() = 300 * inch;
  return scene;
}

TraceFigures yard_figures(bool in_lumens) {
  const std::string power = in_lumens ? "lm" : "W", bright = power + "/m2";
  TraceFigures figures = sample::kettle_figures();
  figures.beam = 0;
  figures.aperture_power = {in_lumens ? 800.0 : 60.0, std::nullopt, power};
  figures.caught_share = Estimate{0.19998, 0.00003, "1"};
  TargetFigures& wall = figures.targets[0];
  wall.name = "wall";
  wall.power = {137.59, 0.02, power};
  wall.direct_power = {12.94, 0.01, power};
  wall.total_power = Estimate{150.53, 0.02, power};
  wall.peak_irradiance = Estimate{116, 5, bright};
  wall.peak_concentration.reset();
  wall.mean_irradiance = Estimate{13.09, 0.02, bright};
  wall.evenness = Estimate{0.906, 0.014, "1"};
  figures.ledger = {{"wall", {137.59, 0.02, power}},
                    {"straight to wall", {12.94, 0.01, power}},
                    {"missed the mirrors", {627.07, 0.03, power}},
                    {"absorbed by dish", {22.4, 0.003, power}},
                    {"missed", {0, std::nullopt, power}}};
  return figures;
}

void check_has(const std::string& text, const std::string& part) {
  INFO(text, "\nlacks: ", part);
  CHECK(text.find(part) != std::string::npos);
}

}  // namespace

TEST_CASE("JSON: lumens and lumens per square metre; the lamp's own keys; no sun") {
  const auto json = nlohmann::json(figures_json(yard_scene(true), "yard", "0", yard_figures(true)));
  CHECK(json["beam"].is_null());
  CHECK(json["aperture_power"]["unit"] == "lm");
  CHECK(!json["aperture_power"].contains("std_error"));
  CHECK(json["caught_share"]["value"] == 0.19998);
  const auto& wall = json["targets"]["wall"];
  CHECK(wall["total_power"]["value"] == 150.53);
  CHECK(wall["evenness"]["value"] == 0.906);
  CHECK(wall["peak_irradiance"]["unit"] == "lm/m2");
  CHECK(wall["peak_concentration"].is_null());
  CHECK(json["ledger"][1]["where"] == "straight to wall");
  CHECK(json["ledger"][1]["power"]["unit"] == "lm");
  TraceFigures none = yard_figures(true);
  none.targets[0].evenness.reset();
  CHECK(nlohmann::json(figures_json(yard_scene(true), "yard", "0", none))["targets"]["wall"]["evenness"].is_null());
  // A sunlit scene has none of these keys.
  const auto sunny = nlohmann::json(figures_json(sample::kettle_scene(), "kettle", "0", sample::kettle_figures()));
  CHECK(!sunny.contains("caught_share"));
  CHECK(!sunny["targets"]["kettle"].contains("evenness"));
  CHECK(!sunny["targets"]["kettle"].contains("total_power"));
}

TEST_CASE("summary: lumens and lux, or watts and W/m², and nothing of the sun") {
  const std::string text = summary(yard_scene(true), "yard", "0", yard_figures(true), Units::us);
  for (const char* part :
       {"Lamp: ball, 2 in wide, gives 800 lm; centre at x 0, y 0, z 24 in", "20 % of the lamp's light meets the dish first.",
        "\nLight on the wall\n  Power by the mirror           138 lm\n", "116 ± 5 lux", "0.906 ± 0.014 (darkest part / mean",
        "Straight from the lamp", "Mirror and straight light     151 lm", "Where the light of the lamp went", "straight to wall",
        "missed the mirrors", "· ball lamp,", "seen through it from its far side"})
    check_has(text, part);
  // The caution may speak of the sun: by day it shines into the mirror.
  const std::string without_caution = text.substr(0, text.find("CAUTION"));
  CHECK(without_caution.find("sun") == std::string::npos);
  CHECK(text.find("W/m²") == std::string::npos);
  CHECK(text.find(" W ") == std::string::npos);
  check_has(trace_answer(yard_scene(true), yard_figures(true), Units::us),
            "  Light on the wall: 138 lm of the 800 lm of the lamp, by the dish.");
  const std::string watts = summary(yard_scene(false), "yard", "0", yard_figures(false), Units::si);
  check_has(watts, "116 ± 5 W/m²");
  check_has(watts, "gives 60 W");
  CHECK(watts.find("lux") == std::string::npos);
  CHECK(watts.find("kW") == std::string::npos);
}

TEST_CASE("every line of the summary fits the terminal") {
  std::size_t from = 0;
  const std::string text = summary(yard_scene(true), "yard", "0", yard_figures(true), Units::us);
  for (std::size_t to = text.find('\n'); to != std::string::npos; from = to + 1, to = text.find('\n', from))
    CHECK(characters(text.substr(from, to - from)) <= text_width);
}

TEST_CASE("card: unit of the colour bar, no suns, the lamp's figures") {
  const Scene scene = yard_scene(true);
  const TraceFigures figures = yard_figures(true);
  const std::string name = "yard", digest = "0";
  const WorkCard page = map_card({scene, name, digest, figures, Units::us}, 0);
  CHECK(map_of(page).unit == "lux");
  CHECK(map_of(page).beam == 0);
  CHECK(map_of(page).top == testing::approx(50e3).epsilon(0.1));  // the sample map in lm/m2, not in thousands
  CHECK(page.answer == "138 lm of the lamp's 800 lm, by mirror");
  CHECK(page.title[2].value == "ball lamp, 800 lm");
  std::string all;
  for (const CardEntry& entry : std::get<std::vector<CardEntry>>(page.numbers[0].body))
    all += entry.label + ": " + entry.value + "\n";
  check_has(all, "Evenness: darkest part / mean, in the 50 % circle: 0.906 ± 0.014");
  check_has(all, "Straight from the lamp, not counted above: 12.9 lm");
  CHECK(all.find("sun") == std::string::npos);
  CHECK(card_pages(page, screen_page).pixels(0, screen_dots).width == 1200);
}

TEST_CASE("tables name the quantity and its unit") {
  const TargetFigures wall = yard_figures(true).targets[0];
  CHECK(map_csv(wall, Units::us, light_units(yard_scene(true))).starts_with("face,x [in],y [in],illuminance [lux]\n"));
  CHECK(map_csv(wall, Units::us, light_units(yard_scene(false))).starts_with("face,x [in],y [in],irradiance [W/m2]\n"));
  CHECK(map_csv(wall, Units::us, light_units(sample::kettle_scene())).starts_with("face,x [in],y [in],irradiance [kW/m2]\n"));
}

TEST_CASE("any value of the lamp changes the digest") {
  std::set<std::string> digests = {scene_digest(sample::kettle_scene())};
  const auto add = [&](auto change) {
    Scene scene = yard_scene(true);
    change(*scene.lamp);
    digests.insert(scene_digest(scene));
  };
  add([](Lamp&) {});
  add([](Lamp& l) { l.shape = BallLamp{0.06}; });
  add([](Lamp& l) { l.shape = DiskLamp{2 * inch}; });
  add([](Lamp& l) { l.shape = LineLamp{2 * inch}; });
  add([](Lamp& l) { l.power = 801; });
  add([](Lamp& l) { l.in_lumens = false; });
  add([](Lamp& l) { l.pose.at.x() = 1e-3; });
  add([](Lamp& l) { l.pose.turn = rotation(0.1, 0, 0); });
  CHECK(digests.size() == 9);
  check_has(settings_line(yard_scene(true), yard_figures(true), "0"), " · rays · ball lamp, 800 lm · scene 0");
}

TEST_CASE("caution for a lamp: dazzle, heat, wet places, and the sun by day") {
  const std::string screen = caution(yard_figures(true), "All rules: safety.pdf.");
  check_has(screen, "CAUTION: A mirror shows the lamp at its full brightness, far away too. Never");
  check_has(screen, "rules: safety.pdf. Local code, school policy");
  std::string text = screen;
  for (const std::string& one : safety_list(yard_figures(true))) text += one + "\n";
  for (const char* part : {"Never look into the lit mirror", "Lamps get hot", "wet places",
                           "By day the same mirror gathers the sun", "Local code, school policy"})
    check_has(text, part);
  CHECK(text.find("second-degree") == std::string::npos);
  // Lumens tell nothing of heat; watts do.
  TraceFigures strong = yard_figures(true);
  strong.targets[0].peak_irradiance->value = 5000;
  CHECK(danger_words(strong).find("second-degree") == std::string::npos);
  TraceFigures hot = yard_figures(false);
  hot.targets[0].peak_irradiance->value = 5000;
  check_has(danger_words(hot), "about 5.0 kW/m². Bare skin can take a");
  check_has(caution_line(yard_figures(true)), "cover it when the lamp is off");
}

TEST_CASE("why: how wide the mirror sees the lamp; a lamp out of the focus; the largest loss") {
  // 2 in at 24 in: 1/12 rad = 4.77°; over 300 in 25 in. Slope: 2 × 4 mrad × 300 in = 2.4 in.
  Scene scene = yard_scene(true);
  const auto lines = why_lines(scene, yard_figures(true), 0, Units::us);
  REQUIRE(lines.size() == 3);
  check_has(lines[0], "From 24 in away, the bottom of the dish sees the lamp 2 in wide: about 4.8 deg.");
  check_has(lines[0], "25 in at the wall");
  check_has(lines[1], "2.4 in of blur (rms) each way at the wall");
  CHECK(lines[2] == "The largest loss is light that never meets a mirror: 78 %.");
  scene.lamp->pose.at.z() += 3 * inch;
  check_has(why_lines(scene, yard_figures(true), 0, Units::us)[0], "The lamp stands 3 in from the focus of the dish");
}

TEST_CASE("a lamp in words") {
  Scene scene = yard_scene(false);
  scene.lamp->shape = LineLamp{3 * inch};
  scene.lamp->pose.turn = rotation(0, 1, 0);
  CHECK(lamp_words(*scene.lamp, Units::us) == "line, 3 in long, gives 60 W; centre at x 0, y 0, z 24 in; turned");
}
