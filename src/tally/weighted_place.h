// SPDX-License-Identifier: MIT
// Where a share of a weight is reached along a line, without sorting all of it.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace dishwright {

/// A place in a list of (value, weight): the first of the list in order of value up to which the weight reaches what was asked for.
struct WeightedPlace {
  std::size_t at = 0;  ///< its number; what stands before it is nowhere greater, what stands behind it nowhere less
  double value = 0;
  double before = 0;  ///< weight of all that stands before it
};

/// That place where the sum of weights, in order of rising value, first is `wanted` or more; the greatest value where it never is.
/// `list` (not empty) is put into another order. Entries before `from` are nowhere greater than the others, their weights add up to
/// `before` and to less than `wanted`. Weights are whole numbers (rays.h), so their sums are exact in any order.
WeightedPlace place_of_weight(std::vector<std::pair<double, double>>& list, std::size_t from, double before, double wanted);

}  // namespace dishwright
