// SPDX-License-Identifier: MIT
#include "base/wide.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstdint>

namespace dishwright {

namespace {

constexpr int wide_count = 500;  // no multiple of any number of lanes
using WideColumn = std::array<double, wide_count>;

/// What the loops of the tracer are made of: products in sums, roots, quotients, single precision, choices.
void mixed_loop(const WideColumn& x, const WideColumn& y, WideColumn& out) {
#pragma omp simd
  for (int i = 0; i < wide_count; ++i) {
    const double across = x[i] * y[i] + 3 * x[i] * x[i] - y[i] * 0.7, root = std::sqrt(across * across + x[i] * x[i]);
    const float small = static_cast<float>(x[i]), rest = 1 - small * small * (0.5F - small * static_cast<float>(y[i]));
    out[i] = across > 0 ? across / (1 + root) + static_cast<double>(rest) : root - x[i] * std::nearbyint(y[i] * 1e3);
  }
}

}  // namespace

TEST_CASE("wide lanes: both copies round alike") {
  WideColumn x{}, y{}, plain{}, wide{};
  for (int i = 0; i < wide_count; ++i) {
    x[static_cast<std::size_t>(i)] = std::sin(0.37 * i), y[static_cast<std::size_t>(i)] = 1.5 * std::cos(0.11 * i * i);
  }
  mixed_loop(x, y, plain);
  on_wide_lanes<mixed_loop>(x, y, wide);
  for (std::size_t i = 0; i < wide_count; ++i) CHECK(plain[i] == wide[i]);
}

}  // namespace dishwright
