// SPDX-License-Identifier: MIT
// The trough bent to a part of a circle.
#pragma once

#include "shape/circle_arc.h"
#include "shape/mirror_shape.h"

namespace dishwright {

/// Part of a circular cylinder of radius R about the line x = 0, z = R; bright inside; |x| <= width/2 <= R, |y| <= length/2.
/// Lengths from 0.1 mm to 1 km.
struct ArcTrough {
  static constexpr ShapeWords words{"arc trough", "an arc trough"};
  double radius = 0;  ///< R [m]
  double width = 0;   ///< rim to rim, along x [m]
  double length = 0;  ///< along y [m]

  auto values() const { return std::tie(radius, width, length); }
  PlanOutline plan() const { return rectangle(width, length); }
  HeightRange height_range() const { return {0, circle_height(radius, width / 2)}; }
  Quadric<double> quadric() const { return {1, 0, 1, radius, 0}; }
  /// Of rays near the middle.
  Vector3 focus() const { return {0, 0, radius / 2}; }
  Patches patches() const { return drawn_out(circle_curve(radius, -width / 2, width / 2), length); }
  std::vector<ShapeProblem> problems(const std::string& /*called*/) const { return wider_than_circle(radius, width); }
};

}  // namespace dishwright
