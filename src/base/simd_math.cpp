// SPDX-License-Identifier: MIT
#include "base/simd_math.h"

#include <numbers>
#include <xsimd/xsimd.hpp>

namespace dishwright {

using Lanes = xsimd::batch<float>;
constexpr int lane_count = static_cast<int>(Lanes::size);

void sincos_of_turns(const float* u, float* sine, float* cosine, int n) {
  // Shifted by half a turn to (−π, π], where the library's argument reduction is shortest.
  for (int i = 0; i < n; i += lane_count) {
    const Lanes angle = (Lanes::load_aligned(u + i) - Lanes(0.5F)) * Lanes(2 * std::numbers::pi_v<float>);
    const auto [s, c] = xsimd::sincos(angle);
    (-s).store_aligned(sine + i);
    (-c).store_aligned(cosine + i);
  }
}

void normal_radius(const float* u, float* radius, int n) {
  for (int i = 0; i < n; i += lane_count) {
    const Lanes squared = Lanes(-2.0F) * xsimd::log(Lanes::load_aligned(u + i));
    xsimd::sqrt(squared).store_aligned(radius + i);
  }
}

}  // namespace dishwright
