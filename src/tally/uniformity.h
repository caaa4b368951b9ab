// SPDX-License-Identifier: MIT
// How even a lamp's beam is on a screen: the darkest of 25 equal parts of the half-light circle against the mean over the circle.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "scene/scene.h"
#include "tally/pilot.h"

namespace dishwright {

/// The circle about the centre of the light whose width is the spot_width_50 that the pilot found, in 25 parts of equal area: a
/// middle disc and four rings of equal breadth in 3, 5, 7 and 9 pieces, the first piece of each from own +x on,
/// counter-clockwise.
struct UniformityCircle {
  static constexpr int rings = 5, parts = rings * rings;
  bool any = false;  ///< false: no light, light in a point, or the circle does not lie whole on the target
  double x = 0, y = 0, radius = 0;
  /// Part 0 … 24 of an own point; −1 outside.
  int part(double at_x, double at_y) const;
};

/// Only a disk or rectangle in the light of a lamp has one.
UniformityCircle uniformity_circle(const Scene& scene, const Target& target, const TargetScale& aim);

/// Weights of one replicate by part.
using UniformityParts = std::array<std::int64_t, UniformityCircle::parts>;

/// Minimum / mean of the light over the circle. Part number `darkest` must have been found on other replicates than those in
/// `sum`: the smallest of many noisy parts would always be too dark. 0 where there is no light.
double uniformity(const std::array<double, UniformityCircle::parts>& sum, std::size_t darkest);

}  // namespace dishwright
