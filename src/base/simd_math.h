// SPDX-License-Identifier: MIT
// Mathematical functions over whole arrays, on the processor's vector lanes.
#pragma once

namespace dishwright {

/// sine and cosine of 2π·u for u in [0, 1]. Error below 2e-7.
void sincos_of_turns(const float* u, float* sine, float* cosine, int n);
/// Azimuth of each place (x, y) from +x toward +y in turns, 0 to 1; of (0, 0) any. Error below 1e-7.
void turns_of(const double* y, const double* x, float* turns, int n);
/// arctan z / (2π z) on 0 to 1 as a polynomial in z², from the lowest power on: of turns_of(), and of the lanes of trace/.
inline constexpr float turn_terms[] = {0.15915494F,    -0.0530511756F, 0.0318180526F,   -0.022596497F, 0.0168996617F,
                                       -0.0118679531F, 0.00670641108F, -0.00250370606F, 4.40267693e-4F};
/// √(−2 ln u) for u in (0, 1): the radius of a two-dimensional standard normal. Relative error below 1e-6. n a multiple of 16,
/// arrays aligned to 64 bytes.
void normal_radius(const float* u, float* radius, int n);

}  // namespace dishwright
