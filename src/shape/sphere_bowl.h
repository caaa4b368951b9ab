// SPDX-License-Identifier: MIT
// The spherical bowl.
#pragma once

#include "shape/circle_arc.h"
#include "shape/mirror_shape.h"

namespace dishwright {

/// Part of a sphere about (0, 0, R), bright inside; hole_width/2 <= r <= width/2 <= R. Lengths from 0.1 mm to 1 km.
struct SphereBowl {
  static constexpr ShapeWords words{"sphere", "a sphere"};
  double radius = 0;      ///< R [m]
  double width = 0;       ///< rim to rim [m]
  double hole_width = 0;  ///< [m], 0 <= hole_width < width

  auto values() const { return std::tie(radius, width, hole_width); }
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const { return {0, circle_height(radius, width / 2)}; }
  Quadric<double> quadric() const { return {1, 1, 1, radius, 0}; }
  /// Of rays near the axis.
  Vector3 focus() const { return {0, 0, radius / 2}; }
  Patches patches() const { return turned(circle_curve(radius, hole_width / 2, width / 2)); }
  std::vector<ShapeProblem> problems(const std::string& /*called*/) const { return wider_than_circle(radius, width); }
};

}  // namespace dishwright
