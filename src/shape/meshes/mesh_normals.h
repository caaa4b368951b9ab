// SPDX-License-Identifier: MIT
// Which way a smooth sheet faces at the corners of its triangles.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/vector.h"

namespace dishwright {

/// Unit normal of each corner, on the side from which the triangles run counter-clockwise.
///
/// First of the faces round it, weighted by their angles there [thuermer1998]: of second order where each neighbour
/// has one opposite to it. Elsewhere, at open edges and where the triangles are irregular, such a mean leans to one side, by the
/// curvature times the length of an edge. There the normal is that of the quadratic surface through the corner that fits its
/// neighbours and theirs best: second order again. Where the fit leaves more than a tenth of its own curving unexplained, the
/// sheet has a crease or noise, and the mean stays.
std::vector<Vector3> corner_normals(const std::vector<Vector3>& places,
                                    const std::vector<std::array<std::uint32_t, 3>>& triangles);

}  // namespace dishwright
