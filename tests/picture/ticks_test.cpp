// SPDX-License-Identifier: MIT
#include "picture/ticks.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

using dishwright::round_ticks;

namespace {

std::vector<std::string> labels(double from, double to, int wanted) {
  std::vector<std::string> out;
  for (const auto& tick : round_ticks(from, to, wanted)) out.push_back(tick.label);
  return out;
}

}  // namespace

TEST_CASE("round numbers with the same decimals, ends included, no minus zero") {
  CHECK(labels(-3, 3, 6) == std::vector<std::string>{"-3", "-2", "-1", "0", "1", "2", "3"});
  CHECK(labels(-0.5, 0.5, 4) == std::vector<std::string>{"-0.4", "-0.2", "0.0", "0.2", "0.4"});
  CHECK(labels(0, 2400, 5) == std::vector<std::string>{"0", "500", "1000", "1500", "2000"});
  CHECK(labels(0.00012, 0.00031, 3) == std::vector<std::string>{"0.00015", "0.00020", "0.00025", "0.00030"});
}

TEST_CASE("about as many as wanted at any size") {
  for (const double span : {1e-4, 0.037, 1.0, 3.3, 6.0, 47.0, 999.0, 3e6}) {
    for (const int wanted : {3, 6, 10}) {
      const auto ticks = round_ticks(-0.31 * span, 0.69 * span, wanted);
      CHECK(ticks.size() >= static_cast<std::size_t>(wanted / 2));
      CHECK(ticks.size() <= static_cast<std::size_t>(1.6 * wanted + 1));
      for (const auto& tick : ticks) CHECK(std::stod(tick.label) == dishwright::testing::approx(tick.value).epsilon(1e-9));
    }
  }
}

TEST_CASE("no axis, no ticks") {
  CHECK(round_ticks(1, 1, 5).empty());
  CHECK(round_ticks(2, 1, 5).empty());
  CHECK(round_ticks(0, INFINITY, 5).empty());
  CHECK(round_ticks(0, std::nan(""), 5).empty());
  CHECK(round_ticks(0, 1, 0).empty());
}

TEST_CASE("ticks of an axis of ratios: 1, 2, 5 in every decade, with the decimals that each needs") {
  std::vector<std::string> names;
  for (const auto& tick : dishwright::ratio_ticks(0.1, 20)) names.push_back(tick.label);
  CHECK(names == std::vector<std::string>{"0.1", "0.2", "0.5", "1", "2", "5", "10", "20"});
  CHECK(dishwright::ratio_ticks(0, 20).empty());
  CHECK(dishwright::ratio_ticks(20, 2).empty());
  CHECK(dishwright::ratio_ticks(-1, INFINITY).empty());
}
