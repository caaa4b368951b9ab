// SPDX-License-Identifier: MIT
// Text, JSON, CSV and pictures of a comparison.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "approx.h"
#include "compare_sample.h"
#include "report/compare/compare_data.h"
#include "report/compare/compare_pictures.h"
#include "report/compare/compare_text.h"
#include "report/compare/compare_widths.h"
#include "report/numbers/text_layout.h"

using namespace dishwright;
using Json = nlohmann::ordered_json;

namespace {

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

const Comparison two = sample::comparison({{"paraboloid", 0.94}, {"sphere", 0.65}}, 0.001);

}  // namespace

TEST_CASE("the object holds scenes, differences and the verdict") {
  const Json json = Json::parse(compare_json(two, "kettle-dish"));
  REQUIRE(json.size() == 4);
  CHECK(json["first"] == Json::array({"paraboloid"}));
  REQUIRE(json["scenes"].size() == 2);
  CHECK(json["scenes"][1]["scene"] == "sphere");
  CHECK(json["scenes"][1]["title"] == "Kettle dish");
  CHECK(json["scenes"][1]["rule"] == "rule of the sphere");
  CHECK(json["scenes"][1]["targets"]["kettle"]["intercept"]["value"] == 0.65);
  REQUIRE(json["differences"].size() == 2);
  CHECK(json["differences"][1]["a"] == "paraboloid");
  CHECK(json["differences"][1]["b"] == "sphere");
  CHECK(json["differences"][1]["figure"] == "intercept");
  CHECK(json["differences"][1]["difference"]["value"].get<double>() == testing::approx(0.29));
  CHECK(json["differences"][1]["difference"]["std_error"] == 0.001);
  CHECK(json["differences"][0]["difference"]["unit"] == "W");
  CHECK(holds(json["verdict"].get<std::string>(), "The paraboloid catches the most"));
  CHECK_FALSE(json["scenes"][0].contains("best_place"));
}

TEST_CASE("a best place has its own entry and its own words") {
  Comparison all = two;
  BestPlace best;
  best.place = {0.55, 0.001, "m"};
  best.focus = 0.6096, best.from = 0.3048, best.to = 0.9144;
  for (Contestant& one : all.contestants) one.best = best;
  const Json json = Json::parse(compare_json(all, "kettle-dish"));
  CHECK(json["scenes"][0]["best_place"]["place"]["value"] == 0.55);
  CHECK(json["scenes"][0]["best_place"]["searched"][1]["value"] == 0.9144);
  CHECK(best_place_words(all.contestants[0], Units::us) ==
        "21.7 in from the vertex, 2.35 ± 0.04 in nearer than the focus at 24 in (searched from 12 in to 36 in)");
  all.contestants[0].best->place = {0.609, 0.001, "m"};
  CHECK(holds(best_place_words(all.contestants[0], Units::si), "as good as at the focus at 610 mm"));
  all.contestants[0].best->at_edge = true;
  CHECK(holds(best_place_words(all.contestants[0], Units::si), "a better place may lie beyond"));
  all.contestants[0].best->flat = true;
  CHECK(holds(best_place_words(all.contestants[0], Units::si), "within the noise; the middle"));
  all.contestants[0].best->dark = true;
  CHECK(holds(best_place_words(all.contestants[0], Units::si), "no light at any place"));
  CHECK(holds(compare_text(all, "kettle-dish", Units::us), "Best place for the kettle"));
}

TEST_CASE("the text has every part, and no line is wider than 80 characters") {
  const Comparison many = sample::comparison(
      {{"paraboloid", 0.94}, {"a name that is much too long for its column", 0.65}, {"flat", 0.1}, {"arc trough", 0.2}}, 1e-5);
  for (const Comparison* all : {&two, &many}) {
    for (const Units units : {Units::us, Units::si}) {
      const std::string text = compare_text(*all, "kettle-dish", units) + compare_answer(*all, units);
      for (const char* part : {"Kettle dish:", "share caught", "half in circle", "percentage points", "Power, in W", "Verdict",
                               "CAUTION", "seed 7", "rule of the paraboloid"}) {
        CHECK_MESSAGE(holds(text, part), part);
      }
      std::istringstream lines(text);
      for (std::string line; std::getline(lines, line);) CHECK_MESSAGE(characters(line) <= 80, line);
    }
  }
  CHECK(holds(compare_text(two, "x", Units::us), "+29.0 ± 0.1"));
  CHECK(holds(compare_text(two, "x", Units::us), "+232 ± 1"));
}

TEST_CASE("watts are told where another one leads there, by more than 1 % and more than the noise") {
  Comparison all = two;
  CHECK_FALSE(holds(compare_answer(all, Units::us), "In watts"));
  all.contestants[1].figures.targets[0].power = {900, 0.1, "W"};
  all.differences[0].difference = {752 - 900.0, 0.8, "W"};
  CHECK(holds(compare_answer(all, Units::us), "In watts the most comes from the sphere: 900 W"));
  all.differences[0].difference.std_error = 80;
  CHECK_FALSE(holds(compare_answer(all, Units::us), "In watts"));
  all.differences[0].difference = {-7, 0.8, "W"};
  CHECK_FALSE(holds(compare_answer(all, Units::us), "In watts"));
}

TEST_CASE("the table for spreadsheets: a row a scene and target, units in the head") {
  Comparison all = two;
  all.contestants[1].name = "a \"b\", c";
  all.contestants[1].figures.targets[0].spot_width_50.reset();
  std::istringstream lines(compare_csv(all, Units::us));
  std::string head, first, second, rest;
  std::getline(lines, head), std::getline(lines, first), std::getline(lines, second);
  CHECK(holds(head, "scene,target,power [W],power ± [W],intercept [%],intercept ± [%],peak_irradiance [kW/m2]"));
  CHECK(holds(head, "spot_width_50 [in]"));
  CHECK(first.rfind("paraboloid,kettle,752,0.8,94,0.1,52.34,0.87,", 0) == 0);
  CHECK(second.rfind("\"a \"\"b\"\", c\",kettle,", 0) == 0);
  CHECK(holds(second, ",65,"));
  CHECK(holds(second, ",,,"));
  CHECK_FALSE(std::getline(lines, rest));
}

TEST_CASE("maps: one window and one scale for all, or each its own") {
  Comparison all = two;
  for (double& value : all.contestants[1].figures.targets[0].map[0].irradiance) value /= 4;
  all.contestants[1].figures.targets[0].peak_irradiance = Estimate{52340 / 4.0, 200, "W/m2"};
  all.contestants[1].figures.targets[0].spot_width_90 = Estimate{0.09, 0.001, "m"};  // no close-up: the whole face
  all.contestants[0].figures.targets[0].plane_centroid = {0.0127, 0};
  all.contestants[0].figures.targets[0].spot_width_90 = Estimate{0.02, 0.001, "m"};
  const CompareMaps maps = compare_maps(all, "kettle-dish", Units::us);
  const auto& common = std::get<MapGrid>(maps.common.pictures.at(0).what);
  const auto& each = std::get<MapGrid>(maps.each.pictures.at(0).what);
  REQUIRE(common.panels.size() == 2);
  CHECK(common.tops.size() == 1);
  CHECK(common.panels[0].view == common.panels[1].view);
  CHECK(common.panels[0].view == common.panels[0].face);
  CHECK(common.tops[0] == testing::approx(50).epsilon(0.1));  // kW/m², at the blob's centre
  REQUIRE(each.tops.size() == 2);
  CHECK(each.tops[1] == testing::approx(each.tops[0] / 4).epsilon(1e-6));
  CHECK(each.panels[0].view.width() < each.panels[1].view.width());
  CHECK(each.panels[0].heading == "paraboloid: 94.0 %");
}

// Two peaks 4 times apart have one scale first; 11 times apart one scale would leave a panel blank. A panel without light is
// blank on any scale.
TEST_CASE("maps: each on its own scale comes first where one scale would leave panels blank") {
  for (const double times : {9.0, 11.0}) {
    Comparison all = two;
    for (double& value : all.contestants[1].figures.targets[0].map[0].irradiance) value /= times;
    all.contestants[1].figures.targets[0].peak_irradiance = Estimate{52340 / times, 200, "W/m2"};
    const CompareMaps maps = compare_maps(all, "kettle-dish", Units::us);
    CHECK(maps.apart == testing::approx(times).epsilon(1e-6));
    CHECK(maps.each_first() == (times > 10));
    CHECK(holds(maps.common.question, "and looks blank.") == (times > 10));
    CHECK(holds(maps.each.question, "the brightest is 11 times the palest.") == (times > 10));
  }
  Comparison dark = two;
  for (double& value : dark.contestants[1].figures.targets[0].map[0].irradiance) value = 0;
  dark.contestants[1].figures.targets[0].peak_irradiance.reset();
  CHECK(compare_maps(dark, "kettle-dish", Units::us).apart == 1);
}

// The curve of a contestant of share s: (0, 0), (100 mm, s ± 1 %), (200 mm, 100 %).
TEST_CASE("how wide a plate must be: where the share less 2 standard errors reaches 90 %, rounded up") {
  const Comparison all = sample::comparison({{"paraboloid", 0.94}, {"sphere", 0.65}}, 0.001);
  // 0.94 − 0.02 at 100 mm: 0.9 at 100 · 0.9/0.92 = 97.8 mm. 0.63 at 100 mm, 1 at 200 mm: 100 + 100 · 0.27/0.37 = 173.0 mm.
  CHECK(width_for_most(all.contestants[0])->value == testing::approx(0.1 * 0.9 / 0.92));
  CHECK(width_for_most(all.contestants[1])->value == testing::approx(0.1 + 0.1 * 0.27 / 0.37));
  Comparison plates = all;
  for (Contestant& one : plates.contestants) one.figures.targets[0].shape = "disk";
  CHECK(width_words(plates, Units::si) ==
        "90 % of the mirror's light needs a plate this wide, centred on its spot: paraboloid 98 mm, sphere 173 mm.");
  // 97.8 mm = 3.851 in = 61.6/16; 172.97 mm = 6.810 in = 108.96/16.
  CHECK(width_words(plates, Units::us) ==
        "90 % of the mirror's light needs a plate this wide, centred on its spot: paraboloid 3 7/8 in, sphere 6 13/16 in.");
  CHECK(share_card(plates, "x", Units::us)->answer == width_words(plates, Units::us));
  CHECK(Json::parse(compare_json(plates, "x"))["scenes"][0]["width_for_90"]["value"].get<double>() ==
        testing::approx(0.1 * 0.9 / 0.92));
  Comparison pots = all;
  for (Contestant& one : pots.contestants) one.figures.targets[0].shape = "pot";
  CHECK(width_words(pots, Units::si) ==
        "90 % of the mirror's light needs a pot this wide, centred on its spot: paraboloid 98 mm, sphere 173 mm.");
  CHECK(share_card(pots, "x", Units::us)->question.starts_with("How wide must a pot be?"));
  // One that never gets there: all of its light on the plane is less than that.
  plates.contestants[1].figures.targets[0].share_curve->share = {0, 0.4, 0.8999};
  CHECK(
      width_words(plates, Units::si) ==
      "90 % of the mirror's light needs a plate this wide, centred on its spot: paraboloid 98 mm; no width will do for sphere.");
  CHECK(Json::parse(compare_json(plates, "x"))["scenes"][1]["width_for_90"].is_null());
  plates.contestants[0].figures.targets[0].share_curve.reset();
  CHECK(width_words(plates, Units::si) == "No plate catches 90 % of the mirror's light, however wide: paraboloid, sphere.");
  for (const char* other : {"rectangle", "pot", "ball"}) {
    plates.contestants[1].figures.targets[0].shape = other;
    CHECK(width_words(plates, Units::si).empty());
    CHECK_FALSE(share_card(plates, "x", Units::us));
  }
  CHECK_FALSE(Json::parse(compare_json(plates, "x"))["scenes"][1].contains("width_for_90"));
}

TEST_CASE("share chart: shares in per cent against widths in the printed unit; none where there is no plane") {
  const auto card = share_card(two, "kettle-dish", Units::si);
  REQUIRE(card.has_value());
  const LineChart* const chart = std::get_if<LineChart>(&card->pictures.at(0).what);
  REQUIRE(chart != nullptr);
  REQUIRE(chart->lines.size() == 2);
  CHECK(chart->lines[0].x[1] == testing::approx(100));
  CHECK(chart->lines[0].y[1] == testing::approx(94));
  CHECK(chart->lines[0].error[1] == testing::approx(1));
  CHECK(chart->x_label == "diameter of the circle [mm]");
  REQUIRE(chart->marks.size() == 1);
  CHECK(chart->marks[0].at == testing::approx(152.4));
  for (const char* shape : {"pot", "rectangle"}) {
    Comparison all = two;
    all.contestants[1].figures.targets[0].shape = shape;
    CHECK_FALSE(share_card(all, "kettle-dish", Units::si).has_value());
  }
}

TEST_CASE("best places, word for word: beyond the focus, without a focus, at the end of the search, even, dark") {
  Contestant one = two.contestants[0];
  one.best = BestPlace{};
  BestPlace& best = *one.best;
  best.place = {0.65, 0.002, "m"};
  best.focus = 0.6, best.from = 0.3, best.to = 0.9;
  CHECK(best_place_words(one, Units::si) ==
        "650 ± 2 mm from the vertex, 50 ± 2 mm farther than the focus at 600 mm (searched from 300 mm to 900 mm)");
  best.focus.reset();
  best.at_edge = true;
  CHECK(best_place_words(one, Units::si) ==
        "650 ± 2 mm from the vertex; that is the end of the search, and a better place may lie beyond (searched from 300 mm to "
        "900 mm)");
  best.flat = true, best.even_from = 0.5, best.even_to = 0.8;
  CHECK(best_place_words(one, Units::si) ==
        "as good anywhere from about 500 mm to 800 mm from the vertex, within the noise; the middle, 650 mm, is taken (searched "
        "from 300 mm "
        "to 900 mm)");
  best.dark = true;
  CHECK(best_place_words(one, Units::si) == "no light at any place (searched from 300 mm to 900 mm); it stays at 650 mm");
}
