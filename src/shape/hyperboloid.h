// SPDX-License-Identifier: MIT
// The hyperboloid of revolution: light on its way to the near focus goes to the far one.
#pragma once

#include "shape/conic.h"
#include "shape/mirror_shape.h"

namespace dishwright {

/// Foci at z = near_focus and z = −far_focus, bright on the convex side (−z): shape/conic.h. Lengths from 0.1 mm to 1 km.
struct Hyperboloid {
  static constexpr ShapeWords words{"hyperboloid", "a hyperboloid"};
  static constexpr bool bright_below = true;
  double near_focus = 0;  ///< vertex to the near focus [m]
  double far_focus = 0;   ///< vertex to the far focus [m], > near_focus
  double width = 0;       ///< rim to rim [m]
  double hole_width = 0;  ///< [m], 0 <= hole_width < width

  Conic conic() const { return hyperboloid_conic(near_focus, far_focus); }
  auto values() const { return std::tie(near_focus, far_focus, width, hole_width); }
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const { return {0, conic().height(width / 2)}; }
  Quadric<double> quadric() const { return conic().quadric(); }
  FocusPair two_foci() const { return {Vector3(0, 0, near_focus), Vector3(0, 0, -far_focus)}; }
  Patches patches() const { return conic_patches(conic(), hole_width, width, -1); }
  std::vector<ShapeProblem> problems(const std::string& called) const;
};

}  // namespace dishwright
