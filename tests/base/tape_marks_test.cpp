// SPDX-License-Identifier: MIT
#include "base/tape_marks.h"

#include <doctest/doctest.h>

using namespace dishwright;

TEST_CASE("inches as a tape shows them: reduced sixteenths") {
  constexpr double inch = 0.0254;
  CHECK(tape_inches(3.375 * inch) == "3 3/8 in");
  CHECK(tape_inches(3.37 * inch) == "3 3/8 in");
  CHECK(tape_inches(0.5 * inch) == "1/2 in");
  CHECK(tape_inches(0.97 * inch) == "1 in");
  CHECK(tape_inches(0.01 * inch) == "0 in");
  CHECK(tape_inches(-0.01 * inch) == "0 in");
  CHECK(tape_inches(-2.5 * inch) == "-2 1/2 in");
  CHECK(tape_inches(inch / 32, 32) == "1/32 in");
}

TEST_CASE("millimetres: whole ones, halves below three") {
  CHECK(tape_millimetres(0.0864) == "86 mm");
  CHECK(tape_millimetres(0.00152) == "1.5 mm");
  CHECK(tape_millimetres(0.00102) == "1 mm");
  CHECK(tape_millimetres(-0.0001) == "0 mm");
}
