// SPDX-License-Identifier: MIT
// Mathematical functions over whole arrays, on the processor's vector lanes (xsimd).
#pragma once

namespace dishwright {

/// sine and cosine of 2π·u for u in [0, 1]; n a multiple of 16, arrays aligned to 64 bytes. Error below 3e-7.
void sincos_of_turns(const float* u, float* sine, float* cosine, int n);
/// √(−2 ln u) for u in (0, 1): the radius of a two-dimensional standard normal. Same array rules. Relative error below 1e-6.
void normal_radius(const float* u, float* radius, int n);

}  // namespace dishwright
