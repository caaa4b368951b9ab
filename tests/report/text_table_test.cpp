// SPDX-License-Identifier: MIT
// Tables on a terminal: columns flush right, as wide as their widest cell.
#include "report/numbers/text_table.h"

#include <doctest/doctest.h>

using namespace dishwright;

TEST_CASE("columns stand flush right, two spaces apart, by characters and not by bytes") {
  CHECK(text_table({{"frequency", "gain", "[°]"}, {"2 kHz", "17.3", "5"}, {"500 Hz", "-4.0", "122"}}) ==
        "  frequency  gain  [°]\n"
        "      2 kHz  17.3    5\n"
        "     500 Hz  -4.0  122\n");
}

TEST_CASE("one cell, empty cells, and rows that end early") {
  CHECK(text_table({{"x"}}) == "  x\n");
  CHECK(text_table({{"", "ab"}, {"c", ""}}) == "     ab\n  c    \n");
  CHECK(text_table({{"a", "b"}, {"c"}}) == "  a  b\n  c\n");
}
