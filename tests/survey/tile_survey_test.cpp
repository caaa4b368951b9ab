// SPDX-License-Identifier: MIT
// Planes of tiles, the sample of a form, and readings that cannot be.
#include "survey/tile_survey.h"

#include <doctest/doctest.h>

#include <set>

#include "approx.h"
#include "base/error.h"
#include "effort.h"
#include "survey/synthetic_tiles.h"

using namespace dishwright;
using testing::BuiltTiles;

namespace {

constexpr double inch = 0.0254, f = 24 * inch;

Facets few() { return testing::square_tiles(f, 20 * inch, 4 * inch, inch / 8); }

BuiltTiles leaning_tiles() {
  return {few(), [](std::size_t k, const Tile&) -> Eigen::Vector2d {
            return {0.004 * static_cast<double>(k % 5), -0.003 * static_cast<double>(k % 3)};
          }};
}

std::vector<std::size_t> form_of(const BuiltTiles& dish) { return tiled_design(dish.pattern).to_read; }

std::string refusal(const SurveyPoints& points) {
  try {
    survey_tiles(points, few(), false);
  } catch (const InputError& error) {
    return error.problems().front().what;
  }
  return "";
}

}  // namespace

TEST_CASE("planes of exact readings are those of the tiles") {
  const BuiltTiles dish = leaning_tiles();
  const TileSurvey survey = survey_tiles(dish.read(form_of(dish), 5 * inch, 0, 0, 1), dish.pattern, false);
  CHECK(survey.with_plane() == dish.tiles.size());
  for (const SurveyedTile& read : survey.tiles) {
    CHECK(read.lean.x() == testing::approx(std::tan(0.004 * static_cast<double>(read.tile % 5))).epsilon(1e-6));
    CHECK(read.lean.y() == testing::approx(std::tan(-0.003 * static_cast<double>(read.tile % 3))).epsilon(1e-6));
  }
  CHECK(survey.set_aside.empty());
}

TEST_CASE("what a rule leaves open in a lean is what readings by chance make") {
  // Four corners 3 in apart, scattered by 0.02 in: σ/(2 · 1.5 in) = 6.7 mrad about each axis, less by the normal's z.
  const BuiltTiles dish = leaning_tiles();
  const TileSurvey survey = survey_tiles(dish.read(form_of(dish), 5 * inch, 0, 0.02 * inch, 4), dish.pattern, true);
  CHECK(survey.noise == testing::approx(0.02 * inch).epsilon(0.4));
  CHECK(survey.lean_error() == testing::approx(survey.noise / (3 * inch)).epsilon(0.1));
}

TEST_CASE("the sample of a form is spread over rings and clock") {
  const TiledDesign design = tiled_design(testing::square_tiles(f, 40 * inch, 2 * inch, inch / 8));
  REQUIRE(design.tiles.size() > 200);
  CHECK(std::set<std::size_t>(design.to_read.begin(), design.to_read.end()).size() == most_tiles_read);
  double of_all = 0, of_sample = 0;
  for (const Tile& tile : design.tiles) of_all += tile.centre.head<2>().squaredNorm() / static_cast<double>(design.tiles.size());
  std::array<int, 4> quarters{};
  for (const std::size_t k : design.to_read) {
    const Vector3& at = design.tiles[k].centre;
    of_sample += at.head<2>().squaredNorm() / most_tiles_read;
    ++quarters[(at.x() > 0 ? 1U : 0U) + (at.y() > 0 ? 2U : 0U)];
  }
  CHECK(of_sample == testing::approx(of_all).epsilon(0.05));
  for (const int count : quarters) CHECK(count >= 6);
  // Names count rows from the top, tiles from the left.
  CHECK(design.numbers.back().first == 1);
  CHECK(design.numbers.front() == std::pair(design.numbers.front().first, 1));
}

TEST_CASE("the frame's lean and bend cover though tiles of one height are rounded alike") {
  // True tiles, of one height and glued by chance a little higher or lower, read to 1/32 in, the straightedge at forty heights:
  // bend 0 is true.
  constexpr int heights = 40;
  for (const double glue : {0.0, 0.03 * inch, -0.02 * inch}) {
    CAPTURE(glue);
    const BuiltTiles dish{few(), [](std::size_t, const Tile&) -> Eigen::Vector2d { return {0, 0}; }, glue};
    int one = 0, two = 0;
    for (int k = 0; k < heights; ++k) {
      const TileLeans leans =
          survey_tiles(dish.read(form_of(dish), (5 + k / (32.0 * heights)) * inch, inch / 32, 0, 1), dish.pattern, false).leans;
      const double bend = std::abs(leans.trend[2]), error = std::sqrt(leans.trend_covariance(2, 2));
      one += bend <= error ? 1 : 0, two += bend <= 2 * error ? 1 : 0;
    }
    // 68 and 95 of 100, less 3.3 binomial deviations. By leans and heights that are taken for independent, 0 to 4 of 40 lay within
    // one.
    CHECK(one >= heights * (0.68 - testing::share_allowance(0.68, heights)));
    CHECK(two >= heights * (0.95 - testing::share_allowance(0.95, heights)));
  }
}

TEST_CASE("a slip at one corner is set aside, and the tile keeps its lean") {
  const BuiltTiles dish = leaning_tiles();
  SurveyPoints points = dish.read(form_of(dish), 5 * inch, inch / 32, 0, 1);
  points.points[9].z() -= 0.5 * inch;
  const TileSurvey survey = survey_tiles(points, dish.pattern, false);
  REQUIRE(survey.set_aside.size() == 1);
  CHECK(survey.points.rows[survey.set_aside.front().index] == 11);
  for (const SurveyedTile& read : survey.tiles) CHECK(read.lean.norm() < 0.04);
  CHECK(survey_tiles(points, dish.pattern, true).set_aside.empty());
}

TEST_CASE("a tile with two readings has a height and no lean") {
  const BuiltTiles dish = leaning_tiles();
  SurveyPoints points = dish.read(form_of(dish), 5 * inch, 0, 0, 1);
  points.points.erase(points.points.begin() + 4, points.points.begin() + 6);
  points.rows.erase(points.rows.begin() + 4, points.rows.begin() + 6);
  const TileSurvey survey = survey_tiles(points, dish.pattern, false);
  CHECK(survey.height_only() == 1);
  CHECK(survey.unread() == 0);
}

TEST_CASE("readings of tiles that cannot be are named") {
  const BuiltTiles dish = leaning_tiles();
  const SurveyPoints good = dish.read(form_of(dish), 5 * inch, inch / 16, 0, 1);
  SurveyPoints beside = good;
  beside.points[3].x() += 30 * inch;
  CHECK(refusal(beside) == "1 reading lies on no tile: line 5");
  SurveyPoints unread = good;
  unread.points.erase(unread.points.begin(), unread.points.begin() + 4),
      unread.rows.erase(unread.rows.begin(), unread.rows.begin() + 4);
  CHECK(refusal(unread) == "there are no readings on 1 of the 21 tiles of the dish: row 1, tile 1");
  SurveyPoints instead = good;
  instead.points[1].head<2>() = instead.points[0].head<2>();
  instead.points[1].z() = instead.points[0].z();
  CHECK(refusal(instead) == "row 1, tile 1: lines 2 and 3 are both its upper left corner, and its upper right one was not read");
  SurveyPoints differ = good;
  differ.points.push_back(differ.points[0] + Vector3(0, 0, 0.5 * inch)), differ.rows.push_back(99);
  CHECK(refusal(differ).find("row 1, tile 1: lines 2 and 99 are both its upper left corner and differ by") == 0);
  SurveyPoints other = good;
  for (Vector3& point : other.points) point.z() = -5 * inch + 4 * point.head<2>().squaredNorm();
  CHECK(refusal(other).find("these readings are not of the dish of the project file") == 0);
  SurveyPoints cloud = good;
  cloud.under_rim = false;
  CHECK(refusal(cloud) == "a cloud of points cannot be held against tiles");
}
