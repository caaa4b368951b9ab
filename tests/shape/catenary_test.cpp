// SPDX-License-Identifier: MIT
// The hanging chain. The four parameters were solved by bisection in 45 digits (Python's decimal module); the arc length has a
// closed form.
#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "approx.h"
#include "shape/catenary.h"

using namespace dishwright;

TEST_CASE("the parameter to the last digits") {
  CHECK(catenary_parameter(1.2, 0.15) == testing::approx(1.22421398059424337).epsilon(1e-15));
  CHECK(catenary_parameter(1, 1e-4) == testing::approx(1250.0000166666663111).epsilon(1e-15));
  CHECK(catenary_parameter(0.5, 3) == testing::approx(0.0525825090512061176).epsilon(1e-15));
  CHECK(catenary_parameter(2, 1) == testing::approx(0.618759227774255723).epsilon(1e-15));
}

TEST_CASE("width and depth are met from flat to deep") {
  for (int step = 0; step < 17; ++step) {
    const double share = 1e-7 * std::pow(7.0, step);
    CAPTURE(share);
    const double a = catenary_parameter(2, share);
    CHECK(catenary_height(a, 1) == testing::approx(share).epsilon(2e-14 * (1 + std::log1p(share))));
  }
}

TEST_CASE("height, slope and arc length hang together: arc² = height² + 2 a height, slope = arc/a") {
  const double a = catenary_parameter(1.2, 0.3);
  for (const double r : {1e-9, 0.01, 0.3, 0.6}) {
    const double height = catenary_height(a, r), arc = a * catenary_slope(a, r);
    CHECK(arc * arc == testing::approx(height * height + 2 * a * height).epsilon(1e-14));
    // a is the radius of curvature at the vertex: a (cosh t − 1) = a t²/2 (1 + t²/12 + t⁴/360 + t⁶/20160 + …), t = r/a <= 0.93;
    // the next is 1e-9.
    const double q = r * r / (a * a), series = 1 + q / 12 + q * q / 360 + q * q * q / 20160;
    CHECK(height / (r * r / (2 * a)) == testing::approx(series).epsilon(1e-6));
  }
  CHECK(catenary_height(a, 1e-9) == testing::approx(1e-18 / (2 * a)).epsilon(1e-14));
}
