// SPDX-License-Identifier: MIT
// The paraboloid of revolution: light along its axis meets in one point.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// z = r²/(4 f), hole_width/2 <= r <= width/2. Lengths from 0.1 mm to 1 km.
struct Paraboloid {
  static constexpr ShapeWords words{"paraboloid", "a paraboloid"};
  double focal_length = 0;  ///< f, vertex to focus [m]
  double width = 0;         ///< rim to rim [m]
  double hole_width = 0;    ///< [m], 0 <= hole_width < width

  auto values() const { return std::tie(focal_length, width, hole_width); }
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const { return {0, width * width / (16 * focal_length)}; }
  Quadric<double> quadric() const { return {1, 1, 0, 2 * focal_length, 0}; }
  Vector3 focus() const { return {0, 0, focal_length}; }
  Patches patches() const { return turned(parabola_curve(focal_length, hole_width / 2, width / 2)); }
};

}  // namespace dishwright
