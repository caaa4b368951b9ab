// SPDX-License-Identifier: MIT
// Where the form asks for depths, shape by shape.
#include "report/survey/survey_places.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>
#include <sstream>

#include "approx.h"
#include "report/survey/survey_form.h"
#include "scene/mirror_surface.h"
#include "survey/held_against.h"

using namespace dishwright;

namespace {

constexpr double inch = 0.0254;

FormDish dish_of(const ReflectorShape& shape, const Flaws& flaws = {}) {
  Scene scene;
  scene.reflectors.emplace_back();
  scene.reflectors.front().shape = shape;
  scene.reflectors.front().flaws = flaws;
  const HeldAgainst held = held_against(scene);
  FormDish dish;
  dish.kind = held.kind, dish.meant = held.meant;
  const PlanOutline plan = plan_of(shape);
  dish.width = plan.high_x() - plan.low_x(), dish.hole_width = hole_width(shape);
  if (dish.offset()) dish.length = (plan.high_y() - plan.low_y()) / dish.meant->rim_turn(1, 1);
  return dish;
}

/// Rows of a table: ring in inches, azimuth from +x in units of `part`.
std::vector<std::pair<double, double>> rows_of(const std::string& table, double part) {
  std::vector<std::pair<double, double>> out;
  std::istringstream lines(table);
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line)) {
    std::istringstream cells(line);
    std::string place, ring, clock;
    std::getline(cells, place, ','), std::getline(cells, ring, ','), std::getline(cells, clock, ',');
    out.emplace_back(std::stod(ring), (3 - std::stod(clock)) / 6 * std::numbers::pi / part);
  }
  return out;
}

}  // namespace

TEST_CASE("petals: seams and middles of each on every ring") {
  for (const int count : {5, 6, 7, 12, 16, 31}) {
    CAPTURE(count);
    const FormDish dish = dish_of(Petals{24 * inch, 48 * inch, count, false, 0});
    const std::string table = readings_table(dish, Units::us);
    CHECK(table.rfind("place,ring [in],clock [h],depth [in]\n", 0) == 0);
    CHECK(table.find("\nmiddle,0,12,\n") != std::string::npos);
    // Azimuths in half petals: even ones are middles, odd ones seams; each ring has all of them.
    const double half = std::numbers::pi / count;
    std::map<double, std::set<int>> seen;
    std::map<double, int> rows;
    for (const auto& [ring, azimuth] : rows_of(table, half)) {
      if (ring == 0) continue;
      ++rows[ring];
      const double place = std::fmod(azimuth + 400.0 * count, 2.0 * count);
      if (std::abs(place - std::round(place)) < 1e-2) seen[ring].insert(static_cast<int>(std::round(place)) % (2 * count));
    }
    REQUIRE(seen.size() == 6);
    for (const auto& [ring, places] : seen) {
      CHECK(places.size() == 2 * static_cast<std::size_t>(count));
      CHECK(rows[ring] >= (ring > 14 ? 24 : 12));
      CHECK(rows[ring] <= 64);
    }
  }
}

TEST_CASE("very many petals: every third place, on every petal and alternately on seams") {
  const FormDish dish = dish_of(Petals{24 * inch, 48 * inch, 48, false, 0});
  const std::vector<ClockPlace> clock = form_clock(dish);
  CHECK(clock.size() == 32);
  const auto seams = std::count_if(clock.begin(), clock.end(), [](const ClockPlace& p) { return p.label.rfind("seam", 0) == 0; });
  CHECK(seams == 16);
}

TEST_CASE("a skin on ribs: ribs and the middles of the bays") {
  Flaws flaws;
  flaws.scallop = Scallop{12, 0.5 * inch};
  const FormDish dish = dish_of(Paraboloid{24 * inch, 48 * inch, 0}, flaws);
  const std::vector<ClockPlace> clock = form_clock(dish);
  REQUIRE(clock.size() == 24);
  // A rib stands at +x, 3 o'clock, so at every hour; bay 1 is the first clockwise of 12.
  CHECK(clock[0].label == "bay 1");
  CHECK(clock[0].hours == testing::approx(0.5));
  CHECK(clock[1].label == "rib 1-2");
  CHECK(clock[1].hours == testing::approx(1));
}

TEST_CASE("an offset dish: places inside the ellipse of its rim, and only there") {
  const FormDish dish = dish_of(OffsetParaboloid{24 * inch, 2 * inch, 20 * inch, 0});
  // From edge to edge: 20 in along y, and up from 2²/96 to 22²/96 in.
  CHECK(*dish.length == testing::approx(std::hypot(20.0, (22 * 22 - 2 * 2) / 96.0) * inch).epsilon(1e-9));
  std::istringstream lines(readings_table(dish, Units::us));
  std::string line;
  std::getline(lines, line);
  CHECK(line == "x [in],y [in],depth [in]");
  int count = 0;
  double highest = 0;
  while (std::getline(lines, line)) {
    const std::size_t comma = line.find(',');
    const double x = std::stod(line), y = std::stod(line.substr(comma + 1));
    CHECK(std::hypot(x / 10, y / (*dish.length / inch / 2)) < 1);
    highest = std::max(highest, y), ++count;
  }
  CHECK(count > 100);
  CHECK(highest > 9);
}

TEST_CASE("a dish with a hole has no places in it") {
  const FormDish dish = dish_of(Cone{12 * inch, 48 * inch, 10 * inch});
  for (const double ring : form_rings(dish, Units::us)) CHECK(ring > 5 * inch);
  CHECK(readings_table(dish, Units::us).find("\n0,12,") == std::string::npos);
}

TEST_CASE("the form of petals says what holds the straightedge and numbers them, on as many pages as it needs") {
  const FormDish dish = dish_of(Petals{24 * inch, 48 * inch, 31, false, 0});
  const std::vector<WorkCard> cards = readings_cards(dish, Units::us);
  CHECK(cards.size() == 4);
  const std::string pdf = readings_form(dish, Units::us, letter_page);
  CHECK(pdf.rfind("%PDF", 0) == 0);
}
