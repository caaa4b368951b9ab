// SPDX-License-Identifier: MIT
#include "report/compare_verdict.h"

#include <doctest/doctest.h>

#include "compare_sample.h"

using namespace dishwright;

TEST_CASE("a winner beyond the uncertainty is named with its lead") {
  CHECK(verdict(sample::comparison({{"sphere", 0.65}, {"paraboloid", 0.94}, {"trough", 0.3}}, 0.001)) ==
        "The paraboloid catches the most: 94.00 ± 0.10 % of the light from its mirror lands on the kettle, 29.00 ± 0.10 "
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
      "within 0.2 percentage points; the a catches 20.00 ± 0.10 percentage points less.");
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
