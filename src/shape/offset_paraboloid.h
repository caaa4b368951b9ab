// SPDX-License-Identifier: MIT
// A dish cut from a paraboloid beside its axis, so that what stands at the focus is out of the way.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// z = r²/(4 f), r from the axis of the whole parabola, whose vertex is the origin; cut by the cylinder of diameter width about
/// the line x = 0, y = clearance + width/2. The hole is about the same line. Lengths from 0.1 mm to 1 km.
struct OffsetParaboloid {
  static constexpr ShapeWords words{"offset paraboloid", "an offset paraboloid"};
  double focal_length = 0;  ///< f, vertex to focus [m]
  double clearance = 0;     ///< from the axis to the near edge, toward +y [m]; >= −width/2
  double width = 0;         ///< diameter of the cutting cylinder [m]
  double hole_width = 0;    ///< [m], 0 <= hole_width < width

  auto values() const { return std::tie(focal_length, clearance, width, hole_width); }
  PlanOutline plan() const;
  HeightRange height_range() const;
  Quadric<double> quadric() const { return {1, 1, 0, 2 * focal_length, 0}; }
  Vector3 focus() const { return {0, 0, focal_length}; }
  Patches patches() const;
  RimEdges near_and_far_edge() const;
  std::vector<ShapeProblem> problems(const std::string& called) const;

 private:
  double height(double r) const { return r * r / (4 * focal_length); }
};

}  // namespace dishwright
