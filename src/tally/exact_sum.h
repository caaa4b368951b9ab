// SPDX-License-Identifier: MIT
// Sums that come out the same in any order, so that threads change no digit.
#pragma once

#include <cmath>
#include <cstdint>

namespace dishwright {

/// Adds numbers after rounding each to a multiple of 2^-30: whole numbers add up exactly in any order. Good for |sum| < 2^96.
class ExactSum {
 public:
  void add(double value) { units_ += static_cast<Wide>(std::nearbyint(value * 0x1p30)); }
  void add(const ExactSum& other) { units_ += other.units_; }
  double value() const { return static_cast<double>(units_) * 0x1p-30; }

 private:
  __extension__ using Wide = __int128;
  Wide units_ = 0;
};

}  // namespace dishwright
