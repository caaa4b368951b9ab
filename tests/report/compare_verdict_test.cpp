// SPDX-License-Identifier: MIT
#include "report/compare/compare_verdict.h"

#include <doctest/doctest.h>

#include "compare_sample.h"

using namespace dishwright;

TEST_CASE("a winner beyond the uncertainty and beyond a percentage point is named with its lead") {
  CHECK(verdict(sample::comparison({{"sphere", 0.65}, {"paraboloid", 0.94}, {"trough", 0.3}}, 0.0001)) ==
        "The paraboloid catches the most: 94 % of the light from its mirror lands on the kettle, 29 percentage points more than "
        "from the sphere, the next best.");
  CHECK(verdict(sample::comparison({{"old", 0.65}, {"new", 0.94}}, 0.002, false)) ==
        "\"new\" catches the most: 94.0 ± 0.2 % of the light from its mirror lands on the kettle, 29.0 ± 0.2 percentage points "
        "more than from \"old\".");
  CHECK(verdict(sample::comparison({{"a", 0.95}, {"b", 0.6}, {"c", 0.607}}, 0.0001)) ==
        "The a catches the most: 95 % of the light from its mirror lands on the kettle, 34.3 percentage points more than from "
        "the c and the b, the next best, which tie.");
}

// A sure difference that nobody would notice: the floor of one percentage point.
TEST_CASE("less than a percentage point apart is a tie, however sure the difference is") {
  CHECK(verdict(sample::comparison({{"flat", 0.65}, {"paraboloid", 0.6591}}, 1e-6)) ==
        "The paraboloid and the flat mirror catch the same share of the light on the kettle, about 66 %, less than 1 percentage "
        "point apart.");
  CHECK(verdict(sample::comparison({{"a", 0.94}, {"b", 0.93}}, 0)).ends_with(", 1 percentage point more than from the b."));
  CHECK(verdict(sample::comparison({{"a", 0.5}, {"b", 0.7}, {"c", 0.7}, {"d", 0.7}}, 0.0001)) ==
        "The b, the c and the d catch the same share of the light on the kettle, about 70 %, less than 1 percentage point apart; "
        "the a catches 20 percentage points less than the b.");
  // Little light: the shares are told, for one is twice the other.
  CHECK(verdict(sample::comparison({{"a", 0.004}, {"b", 0.008}}, 1e-6)) ==
        "The b and the a catch the same share of the light on the kettle, 0.8 % and 0.4 %, less than 1 percentage point apart.");
  CHECK(rank_by_share(sample::comparison({{"a", 1}, {"b", 1 - 5e-7}}, 0)).alike == 2);
}

// a and b tie, b and c tie, a and c do not: c is told from a alone.
TEST_CASE("a chain of near ones claims no more than it can") {
  CHECK(verdict(sample::comparison({{"a", 0.9}, {"b", 0.895}, {"c", 0.888}}, 1e-5)) ==
        "The a and the b catch the same share of the light on the kettle, about 90 %, less than 1 percentage point apart; the c "
        "catches 1.2 percentage points less than the a and cannot be told from the b.");
}

TEST_CASE("less than two standard errors is too close to call, and says how far apart they may be") {
  // 4 apart and twice 4: up to 12.
  CHECK(verdict(sample::comparison({{"flat", 0.54}, {"paraboloid", 0.5}}, 0.04)) ==
        "Too close to call with 1 000 000 paths: the flat mirror and the paraboloid catch the same share of the light on the "
        "kettle, about 54 %, to within 12 percentage points.");
  // 0.4 apart and twice 0.29: 0.98, and the error hides no whole point: the same for every use.
  CHECK(verdict(sample::comparison({{"a", 0.504}, {"b", 0.5}}, 0.0029)) ==
        "The a and the b catch the same share of the light on the kettle, about 50 %, less than 1 percentage point apart.");
  CHECK(verdict(sample::comparison({{"a", 0.508}, {"b", 0.5}}, 0.003))
            .ends_with("the same share of the light on the kettle, about 51 %, to within 1.4 percentage points."));
  // One whole point and a half apart, but as sure as 2 standard errors.
  CHECK(verdict(sample::comparison({{"a", 0.515}, {"b", 0.5}}, 0.008)).find("Too close to call") == 0);
  CHECK(verdict(sample::comparison({{"a", 0.515}, {"b", 0.5}}, 0.007)).find("The a catches the most") == 0);
}

TEST_CASE("no light at all, and a contestant without light") {
  CHECK(verdict(sample::comparison({{"a", 0}, {"b", 0}}, 0)) == "No light from a mirror reaches the kettle in any of them.");
  CHECK(tie_words(sample::comparison({{"a", 0}, {"b", 0}}, 0), Units::us).empty());
  Comparison all = sample::comparison({{"a", 0.5}, {"b", 0}}, 0.001);
  all.contestants[1].figures.targets[0].intercept.reset();
  all.differences.clear();
  CHECK(verdict(all).find("The a catches the most") == 0);
}

TEST_CASE("the ranking is by share, those that tie with the first in front") {
  const Ranking ranking = rank_by_share(sample::comparison({{"a", 0.2}, {"b", 0.5}, {"c", 0.4999}, {"d", 0.4}}, 0.001));
  CHECK(ranking.order == std::vector<std::size_t>{1, 2, 3, 0});
  CHECK(ranking.alike == 2);
  // A noisy one below one that is told apart: b − a is 5 ± 4 points.
  Comparison noisy = sample::comparison({{"a", 0.45}, {"b", 0.5}, {"c", 0.48}}, 0.001);
  noisy.differences[1].difference.std_error = 0.04;
  CHECK(noisy.differences[1].figure == "intercept");
  CHECK(rank_by_share(noisy).order == std::vector<std::size_t>{1, 0, 2});
  CHECK(rank_by_share(noisy).alike == 2);
}

TEST_CASE("those that tie are told apart by spot and peak, but for differences below 5 % or below the noise") {
  Comparison all = sample::comparison({{"a", 0.9}, {"b", 0.9}, {"c", 0.9}, {"d", 0.2}}, 1e-5);
  const auto give = [&](std::size_t k, double width, double peak) {
    TargetFigures& target = all.contestants[k].figures.targets[0];
    target.spot_width_90 = Estimate{width, 1e-5, "m"}, target.peak_irradiance = Estimate{peak, 1, "W/m2"};
  };
  give(0, 0.0254, 50e3), give(1, 0.0254 * 1.04, 200e3), give(2, 0.0508, 196e3), give(3, 0.001, 900e3);
  CHECK(tie_words(all, Units::us) ==
        "Of these the a and the b have the smaller spots: 90 % of the light within 1 in, of the c within 2 in. The b and the c "
        "have the brighter spots: 200 kW/m² at most, the a 50 kW/m².");
  give(2, 0.0254, 196e3);
  CHECK(tie_words(all, Units::si).find("Their spots are of one size. The b and the c") == 0);
  give(0, 0.0254, 195e3);
  CHECK(tie_words(all, Units::us) == "Their spots are of one size. Their brightest spots are alike.");
  // A third less, but no surer than 2 standard errors.
  give(0, 0.0254, 130e3);
  all.differences.push_back({0, 1, "peak_irradiance", {-70e3, 36e3, "W/m2"}});
  CHECK(tie_words(all, Units::us) == "Their spots are of one size. Their brightest spots are alike.");
  all.differences.back().difference.std_error = 34e3;
  CHECK(tie_words(all, Units::us) ==
        "Their spots are of one size. The b and the c have the brighter spots: 200 kW/m² at most, the a 130 kW/m².");
  // Without spots on a plane only the peaks are told; where one has none, nothing.
  all.contestants[1].figures.targets[0].spot_width_90.reset();
  CHECK(tie_words(all, Units::us).find("The b and the c have") == 0);
  all.contestants[0].figures.targets[0].peak_irradiance.reset();
  CHECK(tie_words(all, Units::us).empty());
  CHECK(tie_words(sample::comparison({{"a", 0.9}, {"b", 0.5}}, 1e-5), Units::us).empty());
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
        "percentage points more than from the sphere.");
  all.differences[0].difference = {-1, 0.8, "W"};
  CHECK(verdict(all) ==
        "The paraboloid and the sphere bring the same share of the lamp's light to the kettle, about 25 %, less than 1 "
        "percentage point apart.");
}

TEST_CASE("how contestants are called") {
  CHECK(called("sphere", "rule") == "the sphere");
  CHECK(called("flat", "rule") == "the flat mirror");
  CHECK(called("facets", "rule") == "the dish of facets");
  CHECK(called("my dish", "") == "\"my dish\"");
}
