// SPDX-License-Identifier: MIT
#include "base/simd_math.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <xsimd/xsimd.hpp>

#include "base/bits.h"
#include "base/wide.h"

namespace dishwright {

namespace {

inline float with_sign(float value, std::uint32_t sign_bit) { return bits_as<float>(bits_as<std::uint32_t>(value) ^ sign_bit); }

// Whole quarter turns, and what is left of the angle: at most an eighth of a turn, where five terms of either series are enough.
void sincos_loop(const float* u, float* sine, float* cosine, int n) {
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float quarters = 4 * u[i], above = quarters + 0.5F;
    const std::int32_t whole = static_cast<std::int32_t>(above);
    const float x = quarters - static_cast<float>(whole), x2 = x * x;
    const float s =
        x * (1.570796327F + x2 * (-0.6459640975F + x2 * (0.07969262625F + x2 * (-0.004681754135F + x2 * 1.604411848e-4F))));
    const float c = 1 + x2 * (-1.23370055F + x2 * (0.2536695079F + x2 * (-0.02086348076F + x2 * 9.192602748e-4F)));
    // An odd number of quarters swaps the two; the second bit and the first give the signs.
    const std::uint32_t q = static_cast<std::uint32_t>(whole);
    const bool odd = (q & 1U) != 0;
    sine[i] = with_sign(odd ? c : s, (q & 2U) << 30U);
    cosine[i] = with_sign(odd ? s : c, ((q + 1U) & 2U) << 30U);
  }
}

// The polynomial of turn_terms, through the places of Chebyshev's polynomial; then the octant.
void turns_loop(const double* y, const double* x, float* turns, int n) {
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const float along = static_cast<float>(x[i]), across = static_cast<float>(y[i]);
    const float a = std::abs(along), b = std::abs(across), large = a > b ? a : b, small = a > b ? b : a;
    const float z = small / (large + 1e-30F), t = z * z;
    constexpr auto& c = turn_terms;
    const float near_axis =
        z * (c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * (c[5] + t * (c[6] + t * (c[7] + t * c[8]))))))));
    const float eighth = a > b ? near_axis : 0.25F - near_axis;
    const float half = along < 0 ? 0.5F - eighth : eighth;
    turns[i] = across < 0 ? 1 - half : half;
  }
}

}  // namespace

void sincos_of_turns(const float* u, float* sine, float* cosine, int n) { on_wide_lanes<sincos_loop>(u, sine, cosine, n); }

void turns_of(const double* y, const double* x, float* turns, int n) { on_wide_lanes<turns_loop>(y, x, turns, n); }

void normal_radius(const float* u, float* radius, int n) {
  using Lanes = xsimd::batch<float>;
  for (int i = 0; i < n; i += static_cast<int>(Lanes::size)) {
    const Lanes squared = Lanes(-2.0F) * xsimd::log(Lanes::load_aligned(u + i));
    xsimd::sqrt(squared).store_aligned(radius + i);
  }
}

}  // namespace dishwright
