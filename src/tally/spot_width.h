// SPDX-License-Identifier: MIT
// The width that holds a share of the light on an unbounded plane, with an honest error at any number of paths.
#pragma once

#include <cstddef>
#include <vector>

#include "base/estimate.h"
#include "tally/counts.h"

namespace dishwright {

/// Full width [m] about the middle that holds `share` (0 … 1) of the light: a circle's diameter, of a `band` its width.
///
/// The error comes from how much light each replicate has inside that width, divided by how fast the share grows with the width
/// [woodruff1952]. Leaving out replicates and finding the width anew would follow the gaps
/// between single paths where those are few. Estimate::without_one holds the linear changes that belong to it. Needs some light.
Estimate spot_width(const RadialBins& bins, const std::vector<TallyCounts::Row>& rows, std::size_t target, double share,
                    bool band);

}  // namespace dishwright
