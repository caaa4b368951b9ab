// SPDX-License-Identifier: MIT
// Smooth value and slope at a place from scattered readings around it: weighted least squares of a small polynomial.
#pragma once

#include <vector>

#include "survey/neighbours.h"

namespace dishwright {

/// How local: polynomial of this degree over this many nearest readings, and all others within `reach` [m], weighted by (1 −
/// (distance/reach)³)³ [cleveland1979].
struct LocalRule {
  int degree = 2;
  int count = 14;
  double reach = 0;
};

/// Value and slopes at a place as weighted sums of readings: value = Σ value_weights[k] · reading[index[k]].
struct LocalWeights {
  std::vector<std::size_t> index;
  std::vector<double> value, slope_u, slope_v;
  bool good = false;  ///< the readings around fix the polynomial
};

/// A reading's place in a tangent plane at the place of interest [m].
using LocalPlace = Eigen::Vector2d;

/// `around[k]` is where reading `index[k]` lies, seen from the place of interest; the farthest sets the reach.
LocalWeights local_weights(const std::vector<std::size_t>& index, const std::vector<LocalPlace>& around, int degree);

}  // namespace dishwright
