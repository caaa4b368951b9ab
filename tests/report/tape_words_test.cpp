// SPDX-License-Identifier: MIT
// Lengths and slopes rounded to the safe side. Truth: sums by hand.
#include "report/numbers/tape_words.h"

#include <doctest/doctest.h>

using namespace dishwright;

namespace {

constexpr double inch = 0.0254;

}  // namespace

TEST_CASE("allowances go down to a mark, needs go up, and marks stay") {
  CHECK(tape_down(7.3735 * inch, Units::us) == "7 5/16 in");
  CHECK(tape_up(7.3735 * inch, Units::us) == "7 3/8 in");
  CHECK(tape_down(0.5542 * inch, Units::us) == "17/32 in");
  CHECK(tape_up(0.5542 * inch, Units::us) == "9/16 in");
  CHECK(tape_down(0.03 * inch, Units::us) == "1/64 in");
  CHECK(tape_down(0.015 * inch, Units::us) == "less than 1/64 in");
  CHECK(tape_up(0.0001 * inch, Units::us) == "1/64 in");
  CHECK(tape_up(667.9 * inch, Units::us) == "668 in");
  CHECK(tape_down(32.9e-3, Units::si) == "32 mm");
  CHECK(tape_up(32.1e-3, Units::si) == "33 mm");
  CHECK(tape_down(2.9e-3, Units::si) == "2.5 mm");
  for (const Units units : {Units::us, Units::si}) {
    const double mark = units == Units::us ? 3.0 / 16 * inch : 12e-3;
    CHECK(tape_down(mark, units) == tape_up(mark, units));
    CHECK(tape_down(0, units) == (units == Units::us ? "0 in" : "0 mm"));
    CHECK(tape_up(0, units) == tape_down(0, units));
  }
}

TEST_CASE("slopes take a longer straightedge until it reads 1/16 in, and never read 0") {
  const double wide = 48 * inch;
  CHECK(straightedge(24.26e-3, wide, Units::us) == 6 * inch);    // 0.146 in
  CHECK(straightedge(0.0625 / 6, wide, Units::us) == 6 * inch);  // just 1/16 in
  CHECK(straightedge(4e-3, wide, Units::us) == 24 * inch);       // 0.024, 0.048, 0.096 in
  CHECK(straightedge(1e-4, wide, Units::us) == 48 * inch);       // the mirror is no longer
  CHECK(straightedge(1e-4, 2 * inch, Units::us) == 6 * inch);
  CHECK(straightedge(0, wide, Units::us) == 6 * inch);
  CHECK(straightedge(4e-3, 1.2, Units::si) == 0.3);  // 0.6, 1.2 mm
  CHECK(rise_down(24.26e-3 * 6 * inch, Units::us) == "9/64 in");
  CHECK(rise_up(24.26e-3 * 6 * inch, Units::us) == "5/32 in");
  CHECK(rise_down(1e-4 * 48 * inch, Units::us) == "less than 1/64 in");
  CHECK(rise_up(1e-4 * 48 * inch, Units::us) == "1/64 in");
  CHECK(rise_down(1.845e-3, Units::si) == "1.8 mm");
  CHECK(rise_up(1.845e-3, Units::si) == "1.9 mm");
  CHECK(rise_down(0, Units::us) == "0 in");
  CHECK(run_text(24 * inch, Units::us) == "24 in");
  CHECK(run_text(0.3, Units::si) == "300 mm");
}
