// SPDX-License-Identifier: MIT
// Where a fit starts: the plane of the points and a quadric over it.
#pragma once

#include <vector>

#include "survey/fit.h"

namespace dishwright {

/// A first guess for one kind of shape. Least absolute deviations, so that a few blunders do not turn it over. Throws InputError
/// where the points are too few, on a line, on two lines or on a plane.
PlacedShape first_guess(const SurveyPoints& survey, const std::vector<char>& keep, ShapeKind kind);

}  // namespace dishwright
