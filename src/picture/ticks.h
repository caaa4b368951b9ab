// SPDX-License-Identifier: MIT
// Round numbers along an axis.
#pragma once

#include <string>
#include <vector>

namespace dishwright {

struct Tick {
  double value = 0;
  std::string label;  ///< all of one axis with the same number of decimals
};

/// Multiples of 1, 2 or 5 × 10ⁿ within [from, to], about `wanted` of them (0.5 … 1.6 ×). Empty if from >= to or not finite.
std::vector<Tick> round_ticks(double from, double to, int wanted);

/// 1, 2 and 5 × 10ⁿ within [from, to], each with the decimals it needs, for an axis of ratios. Empty if not 0 < from < to.
std::vector<Tick> ratio_ticks(double from, double to);

}  // namespace dishwright
