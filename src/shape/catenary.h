// SPDX-License-Identifier: MIT
// The curve of a hanging chain, turned about its axis.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// The parameter a of the catenary that is `width` across and `depth` deep [m]; a is the radius of curvature at the vertex, so
/// the focus of rays near the axis is at a/2. Exact to a few units of the last place for depth/width from 1e-7 to 1e7.
double catenary_parameter(double width, double depth);
/// z = a (cosh(r/a) − 1) = 2 a sinh²(r/(2a)) [m]; loses no digits near the vertex.
double catenary_height(double a, double r);
/// dz/dr = sinh(r/a) [1].
double catenary_slope(double a, double r);

/// z = a (cosh(r/a) − 1), hole_width/2 <= r <= width/2, a from width and depth. Lengths from 0.1 mm to 1 km.
struct Catenary {
  static constexpr ShapeWords words{"catenary", "a catenary"};
  double width = 0;       ///< rim to rim [m]
  double depth = 0;       ///< vertex to the plane of the rim [m]
  double hole_width = 0;  ///< [m], 0 <= hole_width < width

  auto values() const { return std::tie(width, depth, hole_width); }
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const { return {0, depth}; }
  Heights heights() const;
  Vector3 focus() const { return {0, 0, catenary_parameter(width, depth) / 2}; }
  Patches patches() const;
};

}  // namespace dishwright
