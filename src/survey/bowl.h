// SPDX-License-Identifier: MIT
// A quadric over scattered places that a few blunders do not turn over.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "base/vector.h"

namespace dishwright {

using BowlTerms = Eigen::Matrix<double, 6, 1>;

/// 1, x, y, x², xy, y².
BowlTerms bowl_row(double x, double y);

/// z = t0 + t1 u + t2 v + t3 u² + t4 uv + t5 v², u = x/size, v = y/size.
struct Bowl {
  BowlTerms terms = BowlTerms::Zero();  ///< [m]
  std::vector<double> misses;           ///< z − bowl, by point [m]
  double condition = 0;                 ///< smallest over largest eigenvalue of the normal equations of equal weights
};

/// Least absolute deviations by rounds of weights 1/|miss|, those below `finest` counting as that [m]. `size`: how far the places
/// reach [m], > 0.
Bowl least_deviations(const std::vector<Vector3>& points, double size, double finest);

}  // namespace dishwright
