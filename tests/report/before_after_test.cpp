// SPDX-License-Identifier: MIT
// What a changed setting does, in words and figures, of made-up figures.
#include "report/compare/before_after.h"

#include <doctest/doctest.h>

#include "compare_sample.h"

using namespace dishwright;

namespace {

/// Two runs of the kettle, whose targets catch these shares with such a standard error.
Comparison pair_of(std::optional<double> before, std::optional<double> after, double error) {
  Comparison pair;
  for (const std::optional<double>& share : {before, after}) {
    Contestant one;
    one.scene = sample::kettle_scene();
    one.figures = sample::kettle_figures();
    one.figures.targets[0].intercept.reset();
    if (share) one.figures.targets[0].intercept = Estimate{*share, error, "1"};
    pair.contestants.push_back(std::move(one));
  }
  return pair;
}

}  // namespace

TEST_CASE("what was set, with the value before") {
  CHECK(change_words({{"aim_error", "0.5 deg", "2 deg"}}) == "aim_error 0.5 deg -> 2 deg");
  CHECK(change_words({{"aim_error", "0.5 deg", "2 deg"}, {"hole_width", "", "3 in"}}) ==
        "aim_error 0.5 deg -> 2 deg; hole_width not set -> 3 in");
}

TEST_CASE("what it does to the share: more, less, as good as alike, within the errors, no light") {
  const auto answer = [](std::optional<double> before, std::optional<double> after, double error) {
    return before_after_answer(pair_of(before, after, error), Units::us);
  };
  CHECK(answer(0.952, 0.61, 0.001) == "The kettle catches 61 % of the mirror's light; before it was 95.2 %: 34 points less.");
  CHECK(answer(0.61, 0.952, 0.001) == "The kettle catches 95.2 % of the mirror's light; before it was 61 %: 34 points more.");
  CHECK(answer(0.9995, 0.9991, 1e-6).ends_with(": no difference to speak of."));
  // Errors of 1 point each make 1.41 points of the difference; 2.5 points are less than two of them, 3 points more.
  CHECK(answer(0.5, 0.525, 0.01).ends_with(": no difference that these paths can tell."));
  CHECK(answer(0.5, 0.53, 0.01).ends_with(": 3 points more."));
  CHECK(answer(0.5, {}, 0.01) == "Light reaches the kettle only before the change.");
  CHECK(answer({}, 0.5, 0.01) == "Light reaches the kettle only after the change.");
  CHECK(answer({}, {}, 0.01) == "No light reaches the kettle, before or after.");
}

TEST_CASE("where the share stays, the spot is told: its width, else its peak, if it differs by more than 5 %") {
  Comparison pair = pair_of(1.0, 1.0, 1e-6);
  TargetFigures& after = pair.contestants[1].figures.targets[0];
  after.spot_width_90->value *= 1.2;  // 1.331 in and 1.597 in
  CHECK(
      before_after_answer(pair, Units::us) ==
      "The kettle catches 100 % of the mirror's light; before it was 100 %. But the spot grows: 90 % of the light within 1.6 in, "
      "not 1.33 in.");
  after.spot_width_90->value *= 1.04 / 1.2;
  CHECK(before_after_answer(pair, Units::us).ends_with(": no difference to speak of."));
  after.peak_irradiance->value *= 0.8;
  CHECK(before_after_answer(pair, Units::us).ends_with(". But its brightest place has 41.9 kW/m², not 52.3 kW/m²."));
}
