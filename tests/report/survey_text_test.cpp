// SPDX-License-Identifier: MIT
// What is printed of a found dish, word for word; figures by hand.
#include "report/survey/survey_text.h"

#include <doctest/doctest.h>

#include "figures_sample.h"

using namespace dishwright;
using sample::inch;

namespace {

const std::string found_caution =
    "\nCAUTION: Cover the dish, or keep it turned from the sun, while you work on it\n"
    "  outdoors: where it shines, its bright spot burns skin and eyes. Nobody looks\n"
    "  into it. Local code, school policy and licensed practice govern.\n";

}  // namespace

TEST_CASE("a found dish with its feed over the middle: 48 in wide, 6 in deep") {
  // f = D²/(16 d) = 24 in; from the focus to the rim f + d = 30 in. ± 1/16 in evenly: σ = 0.0361 in of each length. f goes with
  // 2f/D = 1 of the width and f/d = 4 of the depth: √17 σ = 0.149 in; f/D with √(1/D² + 1/d²) σ/2 = 0.0030; the string with √(1 +
  // 3²) σ = 0.114 in. At the least 47.9375²/(16 · 6.0625) = 23.69 in, at the most 24.32 in.
  const FoundMeasures measures{48 * inch, 6 * inch, std::nullopt, inch / 16};
  CHECK(found_text(measures, found_dish(measures), Units::us) ==
        "Found dish, feed over the middle\n"
        "================================\n"
        "  Width                             48 in\n"
        "  Deepest depth                     6 in\n"
        "  Each length is right to           ± 1/16 in\n"
        "\n"
        "What follows\n"
        "  Focal length                      24.0 ± 0.1 in\n"
        "    at the very least, at the most  23.69 in, 24.32 in\n"
        "  Focal length / width              0.500 ± 0.003\n"
        "\n"
        "Strings from the focus to the rim\n"
        "  anywhere on the rim               30 in ± 0.1 in\n"
        "  Tie three strings of this length to the rim, a third of the way round apart,\n"
        "  and draw them tight together: the feed belongs where they meet.\n" +
            found_caution);
}

TEST_CASE("a found dish without a tape's error: exact figures, in millimetres") {
  const FoundMeasures measures{1.2, 0.15, std::nullopt, 0};
  CHECK(found_text(measures, found_dish(measures), Units::si) ==
        "Found dish, feed over the middle\n"
        "================================\n"
        "  Width                             1200 mm\n"
        "  Deepest depth                     150 mm\n"
        "\n"
        "What follows\n"
        "  Focal length                      600 mm\n"
        "  Focal length / width              0.5\n"
        "\n"
        "Strings from the focus to the rim\n"
        "  anywhere on the rim               750 mm\n"
        "  Tie three strings of this length to the rim, a third of the way round apart,\n"
        "  and draw them tight together: the feed belongs where they meet.\n" +
            found_caution);
}

TEST_CASE("a found dish with an offset feed: height, lean of the rim, a string to each place") {
  // W = 1 m, H = 1.1 m, d = 0.08 m: f = W³/(16 d H) = 0.7102 m; the rim leans by arccos(W/H) = 24.62°.
  const FoundMeasures measures{1.0, 0.08, 1.1, 0};
  const std::string text = found_text(measures, found_dish(measures), Units::si);
  INFO(text);
  CHECK(
      text.starts_with("Found dish, offset feed\n"
                       "=======================\n"
                       "  Width                             1000 mm\n"
                       "  Height                            1100 mm\n"
                       "  Deepest depth                     80 mm\n"
                       "\n"
                       "What follows\n"
                       "  Focal length                      710 mm\n"
                       "  Focal length / width              0.71\n"
                       "  Rim leans from square to axis by  24.6 deg\n"));
  for (const char* place : {"\n  top of the rim ", "\n  bottom of the rim ", "\n  each side of the rim "})
    CHECK(text.find(place) != std::string::npos);
  CHECK(
      text.ends_with("\n  Tie the strings to the rim and draw them tight together: the feed's throat\n"
                     "  belongs where all of them meet.\n" +
                     found_caution));
}
