// SPDX-License-Identifier: MIT
#include "tally/share_curve.h"

#include <algorithm>
#include <cmath>

#include "base/estimate.h"

namespace dishwright {

namespace {

constexpr std::uint32_t step = 4;  // bins from point to point

}  // namespace

ShareCurve share_curve(const RadialBins& bins, const std::vector<TallyCounts::Row>& rows, std::size_t target) {
  ShareCurve curve;
  std::int64_t all_left = 0, total = 0;
  for (const TallyCounts::Row& row : rows) {
    all_left += row.left;
    for (const std::int64_t weight : row.radial[target]) total += weight;
  }
  if (all_left <= 0 || total <= 0) return curve;
  const int replicates = static_cast<int>(rows.size());
  std::vector<std::int64_t> inside(rows.size(), 0);  // weight below the edge so far, by replicate
  std::int64_t sum = 0;
  std::uint32_t bin = 0;
  const auto advance = [&](std::uint32_t to) {
    for (; bin < to; ++bin) {
      for (std::size_t r = 0; r < rows.size(); ++r) {
        inside[r] += rows[r].radial[target][bin];
        sum += rows[r].radial[target][bin];
      }
    }
  };
  const auto share = [&](int r) {
    const std::size_t out = static_cast<std::size_t>(r);
    const double part = static_cast<double>(r < 0 ? sum : sum - inside[out]);
    const std::int64_t left = r < 0 ? all_left : all_left - rows[out].left;
    return left > 0 ? part / static_cast<double>(left) : 0.0;
  };
  double before = 0;  // width of the last empty point
  for (std::uint32_t edge = step;; edge += step) {
    edge = std::min(edge, bins.count);
    advance(edge);
    const double width = 2 * std::sqrt(bins.edge(edge));
    if (sum > 0) {
      if (curve.width.empty()) {
        curve.width.push_back(before), curve.share.push_back(0), curve.std_error.push_back(0);
      }
      const Estimate value = jackknifed("1", replicates, share);
      curve.width.push_back(width);
      curve.share.push_back(value.value);
      curve.std_error.push_back(value.std_error.value_or(0));
    }
    if (sum == total || edge == bins.count) break;
    before = width;
  }
  return curve;
}

}  // namespace dishwright
