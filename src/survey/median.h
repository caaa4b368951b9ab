// SPDX-License-Identifier: MIT
// The middle of numbers, and the spread that it stands for.
#pragma once

#include <algorithm>
#include <vector>

namespace dishwright {

/// The middle one (of an even count the upper of the two middle ones); 0 where there is none.
inline double median(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// Median |x| of a normal with standard deviation 1.
inline constexpr double normal_quartile = 0.67448975;

}  // namespace dishwright
