// SPDX-License-Identifier: MIT
// The flat mirror.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// A plane rectangle, z = 0, |x| <= width/2, |y| <= length/2. Lengths from 0.1 mm to 1 km.
struct Flat {
  static constexpr ShapeWords words{"flat", "a flat mirror"};
  double width = 0;   ///< along x [m]
  double length = 0;  ///< along y [m]

  auto values() const { return std::tie(width, length); }
  PlanOutline plan() const { return rectangle(width, length); }
  HeightRange height_range() const { return {}; }
  Quadric<double> quadric() const { return {0, 0, 0, 0.5, 0}; }
  Patches patches() const { return {parallelogram({-width / 2, -length / 2, 0}, {width, 0, 0}, {0, length, 0})}; }
};

}  // namespace dishwright
