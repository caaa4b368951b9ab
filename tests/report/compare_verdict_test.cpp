// SPDX-License-Identifier: MIT
#include "report/compare/compare_verdict.h"

#include <doctest/doctest.h>

#include "compare_sample.h"

using namespace dishwright;

TEST_CASE("a winner beyond the uncertainty is named with its lead") {
  CHECK(verdict(sample::comparison({{"sphere", 0.65}, {"paraboloid", 0.94}, {"trough", 0.3}}, 0.001)) ==
        "The paraboloid catches the most: 94.0 ± 0.1 % of the light from its mirror lands on the kettle, 29.0 ± 0.1 "
        "percentage points more than from the sphere, the next best.");
  CHECK(verdict(sample::comparison({{"old", 0.65}, {"new", 0.94}}, 0.002, false)) ==
        "\"new\" catches the most: 94.0 ± 0.2 % of the light from its mirror lands on the kettle, 29.0 ± 0.2 percentage points "
        "more than from \"old\".");
}

TEST_CASE("less than two standard errors is too close to call") {
  CHECK(verdict(sample::comparison({{"flat", 0.651}, {"paraboloid", 0.65}}, 0.001)) ==
        "Too close to call with 1 000 000 paths: the flat mirror and the paraboloid catch the same share of the light on the "
        "kettle, 65.1 %, to within 0.3 percentage points.");
  CHECK(verdict(sample::comparison({{"flat", 0.651}, {"paraboloid", 0.65}}, 0.0004)).find("The flat mirror catches the most") ==
        0);
  CHECK(
      verdict(sample::comparison({{"a", 0.5}, {"b", 0.7}, {"c", 0.7}, {"d", 0.7}}, 0.001)) ==
      "Too close to call with 1 000 000 paths: the b, the c and the d catch the same share of the light on the kettle, 70 %, to "
      "within 0.2 percentage points; the a catches 20.0 ± 0.1 percentage points less.");
}

TEST_CASE("differences that the random numbers cannot show are none") {
  const std::string words = verdict(sample::comparison({{"a", 1}, {"b", 1 - 5e-7}}, 0));
  CHECK(words.find("Too close to call") == 0);
  CHECK(words.find("to the last digit that counts") != std::string::npos);
}

TEST_CASE("no light at all, and a contestant without light") {
  CHECK(verdict(sample::comparison({{"a", 0}, {"b", 0}}, 0)) == "No light from a mirror reaches the kettle in any of them.");
  Comparison all = sample::comparison({{"a", 0.5}, {"b", 0}}, 0.001);
  all.contestants[1].figures.targets[0].intercept.reset();
  all.differences.clear();
  CHECK(verdict(all).find("The a catches the most") == 0);
}

TEST_CASE("the ranking is by share, and alike only from the top") {
  const Ranking ranking = rank_by_share(sample::comparison({{"a", 0.2}, {"b", 0.5}, {"c", 0.4999}, {"d", 0.4}}, 0.001));
  CHECK(ranking.order == std::vector<std::size_t>{1, 2, 3, 0});
  CHECK(ranking.alike == 2);
}

TEST_CASE("one percentage point and many: singular, plural, no powers of ten") {
  CHECK(verdict(sample::comparison({{"a", 0.94}, {"b", 0.93}}, 0)).ends_with(", 1 percentage point more than from the b."));
  CHECK(verdict(sample::comparison({{"a", 0.94}, {"b", 0.92}}, 0)).ends_with(", 2 percentage points more than from the b."));
  // 0.4 apart and twice 0.3: 1.0.
  CHECK(verdict(sample::comparison({{"a", 0.504}, {"b", 0.5}}, 0.003)).ends_with(", 50.4 %, to within 1 percentage point."));
  // 4 apart and twice 4: 12, said as about 10.
  CHECK(verdict(sample::comparison({{"a", 0.54}, {"b", 0.5}}, 0.04)).ends_with(", 54 %, to within 10 percentage points."));
}

TEST_CASE("under a lamp the share of the lamp's light counts, not that of the mirror's") {
  Comparison all = sample::comparison({{"sphere", 0.3}, {"paraboloid", 0.5}}, 0.001);
  for (Contestant& one : all.contestants) {
    one.figures.caught_share = Estimate{0.6, 0.001, "1"};
    one.figures.aperture_power = {1600, std::nullopt, "lm"};
  }
  // 400 of 1600 lm and 240 of 1600 lm: 25 and 15 %; ± 0.8 of 1600 is 0.05 points.
  CHECK(verdict(all) ==
        "The paraboloid brings the most: 25.0 ± 0.1 % of the lamp's light comes to the kettle by its mirror, 10.0 ± 0.1 "
        "percentage "
        "points more than from the sphere.");
  all.differences[0].difference = {-1, 0.8, "W"};
  CHECK(verdict(all) ==
        "Too close to call with 1 000 000 paths: the paraboloid and the sphere bring the same share of the lamp's light to the "
        "kettle, 25 "
        "%, to within 0.2 percentage points.");
}

TEST_CASE("how contestants are called") {
  CHECK(called("sphere", "rule") == "the sphere");
  CHECK(called("flat", "rule") == "the flat mirror");
  CHECK(called("facets", "rule") == "the dish of facets");
  CHECK(called("my dish", "") == "\"my dish\"");
}
