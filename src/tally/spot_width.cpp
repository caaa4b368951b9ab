// SPDX-License-Identifier: MIT
#include "tally/spot_width.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr double least_step = 0.01;  // of the share, for its growth with the width

/// A place among the bins: so many whole ones, and a part of the next.
struct Reach {
  std::size_t bin = 0;
  double part = 0;
};

class Spread {
 public:
  Spread(const RadialBins& bins, const std::vector<TallyCounts::Row>& rows, std::size_t target, bool band)
      : bins_(bins), rows_(rows), target_(target), band_(band), counts_(bins.count, 0) {
    for (const TallyCounts::Row& row : rows) {
      for (std::size_t b = 0; b < counts_.size(); ++b) counts_[b] += static_cast<double>(row.radial[target][b]);
    }
    for (const double count : counts_) total_ += count;
  }

  Reach reach(double share) const {
    double sum = 0;
    Reach last;
    for (std::size_t b = 0; b < counts_.size(); ++b) {
      if (counts_[b] == 0) continue;
      if (sum + counts_[b] >= share * total_) return {b, std::max(0.0, share * total_ - sum) / counts_[b]};
      sum += counts_[b];
      last = {b, 1};
    }
    return last;
  }

  double width(const Reach& reach) const {
    const double from = bins_.edge(static_cast<std::uint32_t>(reach.bin)),
                 to = bins_.edge(static_cast<std::uint32_t>(reach.bin + 1));
    // Light is even in area inside a ring, even in distance inside a band.
    return band_ ? 2 * (std::sqrt(from) + reach.part * (std::sqrt(to) - std::sqrt(from)))
                 : 2 * std::sqrt(from + reach.part * (to - from));
  }

  /// Share within the reach, from all replicates but each in turn.
  std::vector<double> shares_without(const Reach& reach, double share) const {
    std::vector<double> out;
    for (const TallyCounts::Row& row : rows_) {
      const std::vector<std::int64_t>& own = row.radial[target_];
      double inside = 0, all = 0;
      for (std::size_t b = 0; b < own.size(); ++b) {
        const double count = static_cast<double>(own[b]);
        all += count;
        inside += b < reach.bin ? count : b == reach.bin ? reach.part * count : 0;
      }
      out.push_back(all < total_ ? (share * total_ - inside) / (total_ - all) : share);
    }
    return out;
  }

 private:
  const RadialBins& bins_;
  const std::vector<TallyCounts::Row>& rows_;
  std::size_t target_;
  bool band_;
  std::vector<double> counts_;
  double total_ = 0;
};

}  // namespace

Estimate spot_width(const RadialBins& bins, const std::vector<TallyCounts::Row>& rows, std::size_t target, double share,
                    bool band) {
  const Spread spread(bins, rows, target, band);
  const Reach reach = spread.reach(share);
  const double width = spread.width(reach);
  const std::vector<double> shares = spread.shares_without(reach, share);
  const int replicates = static_cast<int>(rows.size());
  const auto share_without = [&](int r) { return r < 0 ? share : shares[static_cast<std::size_t>(r)]; };
  const double error = jackknifed("1", replicates, share_without).std_error.value_or(0);
  const double step = std::max(3 * error, least_step), low = std::max(share - step, 0.0), high = std::min(share + step, 1.0);
  const double growth = (spread.width(spread.reach(high)) - spread.width(spread.reach(low))) / (high - low);  // of the width
  return jackknifed("m", replicates, [&](int r) { return width - growth * (share_without(r) - share); });
}

}  // namespace dishwright
