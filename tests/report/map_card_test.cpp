// SPDX-License-Identifier: MIT
#include "report/trace/map_card.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "approx.h"
#include "report/figures_sample.h"
#include "report/numbers/scene_words.h"
#include "report/trace/summary.h"
#include "report/trace/why.h"

using namespace dishwright;

namespace {

WorkCard card(const Scene& scene, const TraceFigures& figures, Units units = Units::us) {
  const std::string name = "kettle-dish", digest = "0123456789ab";
  return map_card({scene, name, digest, figures, units}, 0);
}

const std::vector<CardEntry>& numbers_of(const WorkCard& page) {
  return std::get<std::vector<CardEntry>>(page.numbers.at(0).body);
}

std::string value_of(const WorkCard& page, const std::string& part_of_label) {
  for (const CardEntry& entry : numbers_of(page)) {
    if (entry.label.find(part_of_label) != std::string::npos) return entry.value;
  }
  return "";
}

}  // namespace

TEST_CASE("a disk's card: question, answer, numbers, circles in the user's unit") {
  const WorkCard page = card(sample::kettle_scene(), sample::kettle_figures());
  CHECK(page.title[0].value == "Kettle dish");
  CHECK(page.question == "How much light reaches the kettle?");
  CHECK(page.answer == "712 ± 1 W of the 993 W that meet the dish");
  CHECK(value_of(page, "Peak") == "52.3 ± 0.9 kW/m²");
  CHECK(value_of(page, "suns") == "61.6 ± 1.0");
  CHECK(value_of(page, "90 %") == "1.33 ± 0.01 in");
  REQUIRE(map_of(page).panels.size() == 1);
  const MapPanel& panel = map_of(page).panels[0];
  CHECK(panel.x_label == "x [in]");
  CHECK(panel.face.x_to == testing::approx(2));
  CHECK(map_of(page).top == testing::approx(52.34));  // the peak; the map itself comes to 50
  CHECK(map_of(page).beam == testing::approx(0.85));
  CHECK(map_of(card(sample::kettle_scene(), sample::kettle_figures(), Units::si)).panels[0].face.x_to == testing::approx(50.8));
}

TEST_CASE("circles and bands stand about the centre of all the light") {
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].plane_centroid = {0.5 * sample::inch, 0};
  const MapPanel disk = map_of(card(sample::kettle_scene(), figures)).panels[0];
  REQUIRE(disk.circles.size() == 2);
  CHECK(disk.circles[1].x == testing::approx(0.5));
  CHECK(disk.circles[1].width == testing::approx(0.0338 / sample::inch));
  CHECK(disk.circles[0].line != disk.circles[1].line);
  figures.targets[0].map[0].round = false;
  const MapPanel rectangle = map_of(card(sample::kettle_scene(), figures)).panels[0];
  CHECK(rectangle.circles.empty());
  REQUIRE(rectangle.bands.size() == 2);
  CHECK(rectangle.bands[0].to - rectangle.bands[0].from == testing::approx(0.0155 / sample::inch));
}

TEST_CASE("faces without light are named, not drawn; without any light all are drawn") {
  TraceFigures figures = sample::kettle_figures();
  MapFace side = sample::blob_face();
  side.name = "side", side.across = "around", side.round = false;
  side.irradiance.assign(side.irradiance.size(), 0);
  figures.targets[0].map[0].name = "base";
  figures.targets[0].shape = "pot";
  figures.targets[0].plane_centroid = {0.5 * sample::inch, 0};
  figures.targets[0].map.insert(figures.targets[0].map.begin(), side);
  const WorkCard page = card(sample::kettle_scene(), figures);
  REQUIRE(map_of(page).panels.size() == 1);
  CHECK(map_of(page).panels[0].heading.find("no light on the side") != std::string::npos);
  CHECK(map_of(page).panels[0].circles.size() == 2);  // the widths of the light on the plane of the base
  figures.targets[0].map[1].irradiance.assign(side.irradiance.size(), 0);
  const WorkCard dark = card(sample::kettle_scene(), figures);
  CHECK(map_of(dark).panels.size() == 2);
  CHECK(map_of(dark).top == 0);
}

TEST_CASE("the ledger's bars are shares of the aperture's light") {
  const WorkCard page = card(sample::kettle_scene(), sample::kettle_figures());
  REQUIRE(page.numbers.size() == 2);
  CHECK(page.numbers[1].spare);
  const auto& ledger = std::get<std::vector<CardShare>>(page.numbers[1].body);
  REQUIRE(ledger.size() == 4);
  double sum = 0;
  for (const CardShare& line : ledger) sum += line.share;
  CHECK(sum == testing::approx(1).epsilon(1e-4));
}

TEST_CASE("a scene without a title goes by its file's name; targets without light lack their figures") {
  Scene scene = sample::kettle_scene();
  scene.title.clear();
  TraceFigures figures = sample::kettle_figures();
  TargetFigures& target = figures.targets[0];
  target.intercept.reset(), target.peak_irradiance.reset(), target.peak_concentration.reset(), target.spot_width_50.reset();
  target.spot_width_90.reset(), target.centroid.reset(), target.mean_irradiance.reset();
  const WorkCard page = card(scene, figures);
  CHECK(page.title[0].value == "kettle-dish");
  CHECK(numbers_of(page).size() == 1);  // light straight from the sun
}

TEST_CASE("why: sun's image, slope blur, aim, place, largest loss") {
  // f = 24 in: 2 f tan(4.65 mrad) = 0.2232 in; 2 × 4 mrad × 24 in = 0.192 in; 24 in × tan(0.5°) = 0.2094 in; 136.9/993.2 = 13.8
  // %.
  Scene scene = sample::kettle_scene();
  scene.sun.aim_error = 0.5 * 3.14159265358979 / 180;
  const auto lines = why_lines(scene, sample::kettle_figures(), 0, Units::us);
  REQUIRE(lines.size() == 3);
  CHECK(lines[0].find("0.22 in wide") != std::string::npos);
  CHECK(lines[0].find("0.19 in of blur") != std::string::npos);
  CHECK(lines[1].find("0.21 in") != std::string::npos);
  CHECK(lines[2] == "The largest loss is what the skin of the dish soaks up: 14 %.");
  scene.targets[0].pose.at.z() -= 4 * sample::inch;
  CHECK(why_lines(scene, sample::kettle_figures(), 0, Units::us)[0].find("4 in from the focus") != std::string::npos);
  // A point sun on a perfect mirror has no such reason.
  Scene point = sample::kettle_scene();
  point.sun.half_angle = 0, point.reflectors[0].slope_error = 0;
  CHECK(why_lines(point, sample::kettle_figures(), 0, Units::us).size() == 1);
}

TEST_CASE("the watts carry the range of the finish, outward to two digits") {
  TraceFigures figures = sample::kettle_figures();
  Scene scene = sample::kettle_scene();
  CHECK(power_range_words(scene, figures.targets[0]).empty());
  figures.targets[0].power_range = {712.43 * 0.83 / 0.86, 712.43 * 0.88 / 0.86};  // 687.6 to 729.0 W
  scene.reflectors[0].finish = "aluminised film";
  CHECK(power_range_words(scene, figures.targets[0]) == "680 to 730 W for aluminised film");
  CHECK(value_of(card(scene, figures), "watts") == "680 to 730 W for aluminised film");
  CHECK(trace_answer(scene, figures, Units::us).find("712 ± 1 W (680 to 730 W for aluminised film) of the") != std::string::npos);
  scene.reflectors.push_back(scene.reflectors[0]);
  scene.reflectors[1].finish = "kitchen foil";
  CHECK(power_range_words(scene, figures.targets[0]) == "680 to 730 W for these finishes");
  figures.targets[0].power_range = {0.70, 0.72};
  CHECK(power_range_words(scene, figures.targets[0]).starts_with("0.7 to 0.72 W"));
}
