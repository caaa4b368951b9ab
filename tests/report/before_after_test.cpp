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
    return before_after_answer(pair_of(before, after, error));
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
