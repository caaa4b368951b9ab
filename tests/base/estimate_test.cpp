// SPDX-License-Identifier: MIT
#include "base/estimate.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace dishwright;

namespace {

/// Mean of all values but one (of all for −1), as a statistic of replicates.
Estimate mean_of(const std::vector<double>& values) {
  return jackknifed("m", static_cast<int>(values.size()), [&](int left_out) {
    double sum = 0, count = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (static_cast<int>(i) != left_out) sum += values[i], ++count;
    }
    return sum / count;
  });
}

}  // namespace

TEST_CASE("the jackknife error of a mean is s/√n, and the leave-one-out values are kept") {
  const Estimate mean = mean_of({1, 2, 4, 9});
  CHECK(mean.value == testing::approx(4));
  // s² = (9 + 4 + 0 + 25)/3; s/√4.
  CHECK(*mean.std_error == testing::approx(std::sqrt(38.0 / 3) / 2).epsilon(1e-12));
  REQUIRE(mean.without_one.size() == 4);
  CHECK(mean.without_one[3] == testing::approx(7.0 / 3));
  CHECK(mean.unit == "m");
}

TEST_CASE("a difference keeps what both share out of its error") {
  const std::vector<double> a = {1, 2, 4, 9}, shifted = {0, 1, 3, 8}, other = {1, 1, 5, 6};
  const Estimate same = difference(mean_of(a), mean_of(shifted));
  CHECK(same.value == testing::approx(1));
  CHECK(*same.std_error < 1e-14);
  // Differences replicate by replicate: 0, 1, −1, 3; mean 3/4; s² = (9/16 + 1/16 + 49/16 + 81/16)/3.
  const Estimate pair = difference(mean_of(a), mean_of(other));
  CHECK(pair.value == testing::approx(0.75));
  CHECK(*pair.std_error == testing::approx(std::sqrt(140.0 / 16 / 3) / 2).epsilon(1e-12));
  CHECK(pair.unit == "m");
  const Estimate self = difference(mean_of(a), mean_of(a));
  CHECK(self.value == 0);
  CHECK(*self.std_error == 0);
}

TEST_CASE("without leave-one-out values the errors count as independent; exact numbers bring none") {
  const Estimate a{5, 3.0, "W"}, b{2, 4.0, "W"}, exact{1, std::nullopt, "W"};
  CHECK(difference(a, b).value == 3);
  CHECK(*difference(a, b).std_error == testing::approx(5));
  CHECK(*difference(a, exact).std_error == testing::approx(3));
  CHECK_FALSE(difference(exact, exact).std_error.has_value());
  // Unlike numbers of replicates cannot be paired.
  CHECK(*difference(mean_of({1, 3}), mean_of({1, 2, 3})).std_error == testing::approx(std::hypot(1.0, std::sqrt(1.0 / 3))));
}

TEST_CASE("one replicate gives no error") {
  const Estimate one = jackknifed("1", 1, [](int) { return 2.0; });
  CHECK(one.value == 2);
  CHECK_FALSE(one.std_error.has_value());
  CHECK(one.without_one.empty());
}
