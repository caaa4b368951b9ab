// SPDX-License-Identifier: MIT
#include "survey/hidden.h"

#include <doctest/doctest.h>

#include "approx.h"
#include "survey/survey.h"
#include "survey/synthetic.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254, f = 24 * inch;

double dish(double x, double y) { return (x * x + y * y) / (4 * f) - 6 * inch; }

const std::vector<double> rings = {4 * inch, 8 * inch, 12 * inch, 16 * inch, 20 * inch, 23.5 * inch};

Survey surveyed(const std::vector<Eigen::Vector2d>& places) {
  return survey_points(survey_of(places, dish), ShapeKind::paraboloid, false);
}

}  // namespace

TEST_CASE("rings are found, also where a place is missing, and their widest gaps") {
  std::vector<Eigen::Vector2d> places = ring_places(rings, 12);
  places.erase(places.begin() + 1 + 5 * 12 + 3);  // one of the outermost ring
  const Hidden hidden = surveyed(places).hidden;
  REQUIRE(hidden.rings.size() == 6);
  CHECK(hidden.rings[4].gap == testing::approx(2 * 20 * inch * std::sin(std::numbers::pi / 12)).epsilon(1e-9));
  CHECK(hidden.rings[5].gap == testing::approx(2 * 23.5 * inch * std::sin(std::numbers::pi / 6)).epsilon(1e-9));
  CHECK(hidden.rings[4].wave() == testing::approx(2 * hidden.rings[4].gap).epsilon(1e-12));
  CHECK(surveyed(grid_places(3 * inch, 23.5 * inch)).hidden.rings.empty());
}

TEST_CASE("a hidden wave is zero at the readings, a chord between them, and its slopes are its own") {
  const Survey survey = surveyed(ring_places(rings, 12));
  const Heights bare = heights_from([](double x, double y) { return HeightAt{dish(x, y), x / (2 * f), y / (2 * f)}; });
  const Heights all = with_hidden_waves(bare, survey.hidden, f, std::nullopt), one = with_hidden_waves(bare, survey.hidden, f, 4);
  for (const Eigen::Vector2d& place : ring_places(rings, 12))
    CHECK(std::abs(height_at(*all, place.x(), place.y()).height - dish(place.x(), place.y())) < 1e-12);
  // Half way between two readings of a ring: a straight line from one to the other stands above the bowl by r²(1 − cos² 15°)/(4
  // f), measured at the chord's own middle; to 3 % the wave there.
  const double angle = std::numbers::pi / 12, r = 20 * inch, x = r * std::cos(angle), y = r * std::sin(angle);
  const double chord = r * r * std::pow(std::sin(angle), 2) / (4 * f);
  CHECK(height_at(*all, x, y).height - dish(x, y) == testing::approx(chord).epsilon(0.03));
  CHECK(survey.hidden.rings[4].height == testing::approx(chord).epsilon(0.01));
  // The wave of one ring ends at its neighbours.
  for (const double out : {16 * inch, 23.5 * inch, 10 * inch})
    CHECK(std::abs(height_at(*one, out * std::cos(angle), out * std::sin(angle)).height - out * out / (4 * f) + 6 * inch) <
          1e-12);
  for (const Heights& surface : {all, one}) {
    for (int k = 0; k < 60; ++k) {
      const double out = 23 * inch * std::sqrt((k + 0.5) / 60), turned = 2.4 * k + 0.1, step = 1e-7;
      const double px = out * std::cos(turned), py = out * std::sin(turned);
      const HeightAt at = height_at(*surface, px, py);
      const auto along = [&](double dx, double dy) {
        return (height_at(*surface, px + dx, py + dy).height - height_at(*surface, px - dx, py - dy).height) / (2 * step);
      };
      CHECK(at.slope_x == testing::approx(along(step, 0)).epsilon(1e-4));
      CHECK(at.slope_y == testing::approx(along(0, step)).epsilon(1e-4));
    }
  }
}
