// SPDX-License-Identifier: MIT
// The parabolic trough: light along its axis meets in a line.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// z = x²/(4 f), |x| <= width/2, |y| <= length/2. Lengths from 0.1 mm to 1 km.
struct Trough {
  static constexpr ShapeWords words{"trough", "a trough"};
  double focal_length = 0;  ///< f, vertex to focal line [m]
  double width = 0;         ///< rim to rim, along x [m]
  double length = 0;        ///< along y [m]

  auto values() const { return std::tie(focal_length, width, length); }
  PlanOutline plan() const { return rectangle(width, length); }
  HeightRange height_range() const { return {0, width * width / (16 * focal_length)}; }
  Quadric<double> quadric() const { return {1, 0, 0, 2 * focal_length, 0}; }
  Vector3 focus() const { return {0, 0, focal_length}; }
  Patches patches() const { return drawn_out(parabola_curve(focal_length, -width / 2, width / 2), length); }
};

}  // namespace dishwright
