// SPDX-License-Identifier: MIT
// Sums that do not depend on the order, against whole-number arithmetic.
#include "tally/exact_sum.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

using namespace dishwright;

TEST_CASE("exact sum: multiples of 2^-30 add without any rounding, in any order") {
  std::mt19937_64 random(7);
  std::vector<std::int64_t> units(20'000);
  for (std::int64_t& one : units)
    one = static_cast<std::int64_t>(random() >> 13U) - (std::int64_t{1} << 50);  // 51 bits and a sign
  std::int64_t truth = 0;                                                        // about 2^57: the signs are even
  for (const std::int64_t one : units) truth += one;
  for (int order = 0; order < 3; ++order) {
    std::shuffle(units.begin(), units.end(), random);
    ExactSum whole, first, second;
    for (std::size_t k = 0; k < units.size(); ++k) {
      const double value = std::ldexp(static_cast<double>(units[k]), -30);
      whole.add(value);
      (k < 7'000 ? first : second).add(value);
    }
    second.add(first);
    CHECK(whole.value() == std::ldexp(static_cast<double>(truth), -30));
    CHECK(second.value() == whole.value());
  }
}

TEST_CASE("exact sum: what plain doubles lose") {
  ExactSum sum;
  sum.add(0x1p60), sum.add(1), sum.add(-0x1p60);
  CHECK(sum.value() == 1);
  const double plain = 0x1p60 + 1 - 0x1p60;
  CHECK(plain == 0);
}

TEST_CASE("exact sum: each number is rounded to the nearest multiple of 2^-30, halves to the even one") {
  const auto rounded = [](double value) {
    ExactSum sum;
    sum.add(value);
    return sum.value() * 0x1p30;
  };
  CHECK(rounded(0x0.4p-30) == 0);
  CHECK(rounded(0x0.8p-30) == 0);
  CHECK(rounded(0x0.cp-30) == 1);
  CHECK(rounded(0x1.8p-30) == 2);
  CHECK(rounded(-0x1.8p-30) == -2);
  CHECK(rounded(0x2.8p-30) == 2);
}

TEST_CASE("exact sum: room beyond 64 bits") {
  ExactSum sum;
  for (int k = 0; k < 1000; ++k) sum.add(0x1p80);
  CHECK(sum.value() == 1000 * 0x1p80);
  for (int k = 0; k < 2000; ++k) sum.add(-0x1p80);
  CHECK(sum.value() == -1000 * 0x1p80);
}
