// SPDX-License-Identifier: MIT
// The cone: light along its axis meets on a stretch of the axis.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// z = depth · r/(width/2), hole_width/2 <= r <= width/2. Lengths from 0.1 mm to 1 km.
struct Cone {
  static constexpr ShapeWords words{"cone", "a cone"};
  double depth = 0;       ///< vertex to the plane of the rim [m]
  double width = 0;       ///< rim to rim [m]
  double hole_width = 0;  ///< [m], 0 <= hole_width < width

  auto values() const { return std::tie(width, depth, hole_width); }
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const { return {0, depth}; }
  Quadric<double> quadric() const {
    const double slope = 2 * depth / width;
    return {1, 1, -1 / (slope * slope), 0, 0};
  }
  Patches patches() const {
    const double slope = 2 * depth / width;
    return turned(curve_of(hole_width / 2, width / 2, [slope](double r) { return std::pair(slope * r, slope); }));
  }
};

}  // namespace dishwright
