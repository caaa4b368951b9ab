// SPDX-License-Identifier: MIT
// The stand-in for std::from_chars against std::from_chars itself.
#include "base/decimal.h"

#include <doctest/doctest.h>

#include <charconv>
#include <cmath>
#include <cstring>
#include <random>
#include <string>

using namespace dishwright;

namespace {

void check_same(const std::string& text) {
  CAPTURE(text);
  double ours = 7, theirs = 7;
  const char *first = text.data(), *last = first + text.size();
  const auto here = decimal_by_strtod(first, last, ours);
  const auto there = std::from_chars(first, last, theirs);
  CHECK(here.ec == there.ec);
  CHECK(here.ptr - first == there.ptr - first);
  if (std::isnan(theirs)) {
    CHECK(std::isnan(ours));
  } else {
    CHECK(std::memcmp(&ours, &theirs, sizeof ours) == 0);
  }
}

}  // namespace

TEST_CASE("decimals: both readings agree on what is a number, where it ends and what it is") {
  for (const char* text : {"",
                           "-",
                           "+1",
                           " 1",
                           "1",
                           "-1",
                           "1.",
                           ".5",
                           ".",
                           "-.5",
                           "1e",
                           "1e+",
                           "1e5",
                           "1E-5x",
                           "1.5e3.2",
                           "0x10",
                           "1e400",
                           "-1e400",
                           "1e-400",
                           "0e-400",
                           "0.0e999999",
                           "inf",
                           "-INF",
                           "infinity",
                           "infinit",
                           "nan",
                           "-nan",
                           "NaNx",
                           "in",
                           "1,5",
                           "1_000",
                           "00012",
                           "1e0005",
                           "123456789012345678",
                           "0.1",
                           "2.2250738585072014e-308",
                           "4.9e-324",
                           "1.7976931348623157e308",
                           "1.7976931348623159e308",
                           "1-2",
                           "1e5e5"})
    check_same(text);
}

TEST_CASE("decimals: texts by chance") {
  std::mt19937 chance(5);
  const std::string letters = "0123456789..--++eE x";
  for (int k = 0; k < 20'000; ++k) {
    std::string text(std::uniform_int_distribution<std::size_t>(0, 12)(chance), ' ');
    for (char& c : text) c = letters[std::uniform_int_distribution<std::size_t>(0, letters.size() - 1)(chance)];
    check_same(text);
  }
}
