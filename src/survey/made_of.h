// SPDX-License-Identifier: MIT
// How a dish is made, as its readings show it: of flat petals, or pressed from a sheet.
#pragma once

#include <optional>

#include "survey/fit.h"

namespace dishwright {

/// The dish of 5 to 32 flat petals that fits these readings better than the paraboloid `round` does, beyond doubt (as in
/// fit_all, two further numbers paid for: how many petals, and where). Its flatness must be that of sheets straight across: the
/// N-fold part of what the paraboloid leaves, least squares on r² cos Nφ and r² sin Nφ, is held against the Fourier coefficient
/// of u²/(4 f) and must lie between half and twice of it. So seams and middles must have been read. Empty for clouds.
std::optional<ShapeFit> flat_petals(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& round);

/// The pressed sheet (shape/pressed.h) that fits better than `round` in the same way; its rim lies up to a tenth beyond the
/// outermost reading, where it fits best. It must leave less than half of what the paraboloid leaves.
std::optional<ShapeFit> pressed_sheet(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& round);

/// Mean over a petal of u² cos(N φ) / r², twice: what the N-fold part of a dish of N flat petals is [1].
double petal_harmonic(int count);

}  // namespace dishwright
