// SPDX-License-Identifier: MIT
// Readings that cannot be the surface: a slipped rule, a wrong digit, a point of the bench in a cloud.
#pragma once

#include <vector>

#include "survey/fit.h"

namespace dishwright {

/// A reading that was set aside.
struct Outlier {
  std::size_t index = 0;  ///< in the survey
  double residual = 0;    ///< along the surface's normal, + = toward the sun [m]
  double expected = 0;    ///< what its neighbours say [m]
};

/// Points that differ from their neighbours by more than 6 robust standard deviations of such differences, by more than 3 steps
/// of the readings and by more than a lean of 0.1 over the way to the neighbours (1/2 in over 5 in: no skin does that), or that
/// lie off the shape by more than 8 standard deviations and 3 % of the width. Smaller ones stay and show up as spots.
std::vector<Outlier> find_outliers(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit);

}  // namespace dishwright
