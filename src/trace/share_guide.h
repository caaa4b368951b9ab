// SPDX-License-Identifier: MIT
// Which of many shares a number of (0, 1) falls into.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace dishwright {

/// Cumulative shares, the last 1, with a table that says where to begin to look.
class ShareGuide {
 public:
  ShareGuide() = default;
  explicit ShareGuide(std::vector<double> cumulative)
      : share_(std::move(cumulative)), guide_(std::max<std::size_t>(64, 2 * share_.size())) {
    std::size_t k = 0;
    for (std::size_t g = 0; g < guide_.size(); ++g) {
      while (k + 1 < share_.size() && share_[k] <= static_cast<double>(g) / static_cast<double>(guide_.size())) ++k;
      guide_[g] = static_cast<int>(k);
    }
  }
  /// The first share whose end lies above u; the last one from its beginning on.
  int find(double u) const {
    int k = guide_[static_cast<std::size_t>(u * static_cast<double>(guide_.size()))];
    while (k + 1 < static_cast<int>(share_.size()) && share_[static_cast<std::size_t>(k)] <= u) ++k;
    return k;
  }
  double from(int k) const { return k == 0 ? 0 : share_[static_cast<std::size_t>(k - 1)]; }
  double to(int k) const { return share_[static_cast<std::size_t>(k)]; }

 private:
  std::vector<double> share_;
  std::vector<int> guide_;
};

}  // namespace dishwright
