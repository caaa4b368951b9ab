// SPDX-License-Identifier: MIT
// From whole-number sums to figures with their standard errors.
#pragma once

#include <vector>

#include "tally/books.h"
#include "trace/plan.h"

namespace dishwright {

/// What the books do not know.
struct Frame {
  PathPlan plan;
  double candidate_area = 0;       ///< m² of silhouette that the paths were spread over
  bool every_point_counts = true;  ///< then aperture_power is exact
  std::vector<Estimate> direct;    ///< direct_power by target
};

TraceFigures finish_figures(const TallyPlan& plan, const Books& books, const Frame& frame);

}  // namespace dishwright
