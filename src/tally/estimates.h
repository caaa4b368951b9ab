// SPDX-License-Identifier: MIT
// From whole-number sums to figures with their standard errors.
#pragma once

#include <vector>

#include "tally/counts.h"
#include "trace/plan.h"

namespace dishwright {

/// What the counts do not know.
struct RunTotals {
  PathPlan plan;
  double source_power = 0;         ///< that all paths stand for [W, or lm]
  bool every_point_counts = true;  ///< then aperture_power is exact
  std::vector<Estimate> direct;    ///< direct_power of sunlight by target; a lamp's is among the counts
};

TraceFigures estimate_figures(const TallyPlan& plan, const TallyCounts& counts, const RunTotals& totals);

}  // namespace dishwright
