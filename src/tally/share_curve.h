// SPDX-License-Identifier: MIT
// How much light falls inside a growing circle (or band) about the middle of the spot.
#pragma once

#include <cstddef>
#include <vector>

#include "result/figures.h"
#include "tally/counts.h"

namespace dishwright {

/// The curve of target number `target` from its spot-size bins, 32 points to a doubling of the squared width: exact at each point
/// for the traced paths (points are bin edges). From the last width that holds none of the light to the first that holds all.
ShareCurve share_curve(const RadialBins& bins, const std::vector<TallyCounts::Row>& rows, std::size_t target);

}  // namespace dishwright
