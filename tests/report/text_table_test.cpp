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
  CHECK(text_table({{"", "ab"}, {"c", ""}}) == "     ab\n  c\n");
  CHECK(text_table({{"a", "b"}, {"c"}}) == "  a  b\n  c\n");
  CHECK(text_table({{"", "b"}, {"", ""}, {"c", ""}}) == "     b\n  c\n");  // a line without a word is left out
}

TEST_CASE("columns that do not fit the line follow below, with the labels again") {
  const std::string wide(30, 'w'), gap(28, ' ');
  CHECK(text_table({{"a", "b", "c", "d"}, {"1", wide, wide, wide}}) ==
        "  a" + gap + "   b" + gap + "   c\n  1  " + wide + "  " + wide + "\n\n  a" + gap + "   d\n  1  " + wide + "\n");
  // Two labels; a column that is wider than the line stands alone.
  const std::string wider(90, 'w');
  CHECK(text_table({{"a", "b", "c", "d"}, {"1", "2", wider, "3"}}, 2) ==
        "  a  b  " + std::string(89, ' ') + "c\n  1  2  " + wider + "\n\n  a  b  d\n  1  2  3\n");
}

TEST_CASE("a head of a column is broken at blanks, dots and underscores, else anywhere") {
  using Lines = std::vector<std::string>;
  CHECK(head_lines("share caught [%]", 16) == Lines{"share caught [%]"});
  CHECK(head_lines("share caught [%]", 12) == Lines{"share caught", "[%]"});
  CHECK(head_lines("a_long_name.slope_error [mrad]", 12) == Lines{"a_long_name.", "slope_error", "[mrad]"});
  CHECK(head_lines("abcdefghij", 4) == Lines{"abcd", "efgh", "ij"});
  CHECK(head_lines("±±±±±", 4) == Lines{"±±±±", "±"});
  CHECK(head_lines("", 4) == Lines{""});
}
