// SPDX-License-Identifier: MIT
// Gauss-Legendre points for smooth functions of one variable.
#pragma once

#include <vector>

namespace dishwright {

/// Points and weights on 0 … 1; the weights add up to 1.
struct Rule {
  std::vector<double> at, weight;
};

/// n >= 1 evenly spaced points with equal weights: for smooth functions that come round again.
Rule even_rule(int n);
/// Gauss-Legendre rule of n >= 1 points; above 16 points equal panels of at most 16 points each.
Rule gauss_rule(int n);

}  // namespace dishwright
