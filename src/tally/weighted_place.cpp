// SPDX-License-Identifier: MIT
#include "tally/weighted_place.h"

#include <algorithm>

namespace dishwright {

// Halves the stretch in which the place must be, again and again.
WeightedPlace place_of_weight(std::vector<std::pair<double, double>>& list, std::size_t from, double before, double wanted) {
  const auto by_value = [](const auto& a, const auto& b) { return a.first < b.first; };
  const auto at = [&](std::size_t k) { return list.begin() + static_cast<std::ptrdiff_t>(k); };
  std::size_t to = list.size();
  while (to - from > 1) {
    const std::size_t middle = from + (to - from) / 2;
    std::nth_element(at(from), at(middle), at(to), by_value);
    double below = before;
    for (std::size_t k = from; k < middle; ++k) below += list[k].second;
    if (below >= wanted) {
      to = middle;
    } else {
      from = middle, before = below;
    }
  }
  return {from, list[from].first, before};
}

}  // namespace dishwright
