// SPDX-License-Identifier: MIT
// A map as a small picture made of characters, for terminals and screen readers.
#pragma once

#include <string>

#include "report/numbers/light_units.h"
#include "report/numbers/number_text.h"
#include "result/figures.h"

namespace dishwright {

/// The target's face that holds the brightest bin; null where no light falls.
const MapFace* hottest_face(const TargetFigures& target);

/// Digits 1–9 are tenths of the brightest cell, '.' is lit but under a tenth, a space is dark. Zoomed to the part that holds
/// 99 % of the light across and 99 % of it up. One cell is drawn twice as high as wide, as terminals do; a long thin part is
/// stretched, and the line below says so. Ends of both axes carry their place in mm or in. Empty where no light falls.
std::string text_map(const TargetFigures& target, Units units, const LightUnits& light = {});

}  // namespace dishwright
