// SPDX-License-Identifier: MIT
#include "report/numbers/text_layout.h"

#include <doctest/doctest.h>

using namespace dishwright;

TEST_CASE("widths count characters, not bytes") {
  CHECK(characters("kW/m²") == 5);
  CHECK(characters("1 ± 2") == 5);
  CHECK(flush_right("±", 3) == "  ±");
  CHECK(flush_left("±", 3) == "±  ");
  CHECK(flush_left("longer", 3) == "longer");
}

// Widths of the Unicode standard, annex 11 (East Asian width), and its combining marks.
TEST_CASE("widths count columns of a terminal") {
  CHECK(characters("\u00fc") == 1);   // ü as one character
  CHECK(characters("u\u0308") == 1);  // ü as a letter and its mark
  CHECK(characters("\u9365\u4e2d") == 4);
  CHECK(characters("\uff34") == 2);
  CHECK(characters("\U0001f373") == 2);
  CHECK(characters("\xff") == 1);
  CHECK(flush_left("\u9365", 4) == "\u9365  ");
}

TEST_CASE("a label never runs into its text") {
  CHECK(labelled("Power", "3 W", 12) == "  Power     3 W\n");
  CHECK(labelled("12345678", "3 W", 12) == "  12345678  3 W\n");
  CHECK(labelled("123456789", "3 W", 12) == "  123456789\n            3 W\n");
  CHECK(labelled("\u9365\u9365\u9365\u9365", "3 W", 12) == "  \u9365\u9365\u9365\u9365  3 W\n");
}

TEST_CASE("long texts break at spaces, at 80 characters") {
  std::string words;
  for (int i = 0; i < 40; ++i) words += "abcd ";
  const std::string text = wrapped(words, "First: ", "  ");
  CHECK(text.substr(0, text.find('\n')) == "First: abcd abcd abcd abcd abcd abcd abcd abcd abcd abcd abcd abcd abcd abcd");
  CHECK(text.find("\n  abcd") != std::string::npos);
  CHECK(wrapped("one") == "one\n");
  CHECK(wrapped(std::string(100, 'x')) == std::string(100, 'x') + "\n");
}

TEST_CASE("a number stays with its error and unit") {
  const std::string filler(70, 'x');
  CHECK(wrapped(filler + " 712.4 ± 0.6 W, then") == filler + "\n712.4 ± 0.6 W, then\n");
  CHECK(wrapped(filler + " about 5 kW/m² more") == filler + " about\n5 kW/m² more\n");
}
