// SPDX-License-Identifier: MIT
// Whether rounding to a rule's marks alone could make one shape look better than another.
#pragma once

#include "survey/fit.h"

namespace dishwright {

/// True where a surface of the shape `worse`, read with the same rule at the same places, looks as much like `better` as these
/// readings do, in one of up to 200 draws (a parametric bootstrap [efrontibshirani1993, §6.5]). Rounding errors are alike on a
/// level ring, so the readings count for far fewer than there are, and no formula for independent readings holds. Each draw
/// lifts the surface by another share of a step, changes its depth by up to a step, adds what scatter there is beyond rounding,
/// and rounds. False where the readings have no step, or scatter by more than twice what rounding makes.
bool rounding_explains(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& worse, const ShapeFit& better);

}  // namespace dishwright
