// SPDX-License-Identifier: MIT
// The outline of a mirror in projection on its own x, y, and between which heights it lies.
#pragma once

#include <cmath>

namespace dishwright {

/// A ring about (x_middle, y_middle), or a rectangle.
struct PlanOutline {
  bool round = true;
  double inner = 0, outer = 0;  ///< radii of the ring [m]
  double y_middle = 0;          ///< of the ring [m]
  double x_from = 0, x_to = 0;  ///< of the rectangle [m]
  double y_from = 0, y_to = 0;  ///< [m]
  double x_middle = 0;          ///< of the ring [m]

  /// Is the place (x, y) on the mirror, its hole left out?
  bool covers(double x, double y) const {
    if (!round) return x >= x_from && x <= x_to && y >= y_from && y <= y_to;
    const double r = std::hypot(x - x_middle, y - y_middle);
    return r >= inner && r <= outer;
  }
  /// The rectangle around it [m].
  double low_x() const { return round ? x_middle - outer : x_from; }
  double high_x() const { return round ? x_middle + outer : x_to; }
  double low_y() const { return round ? y_middle - outer : y_from; }
  double high_y() const { return round ? y_middle + outer : y_to; }
};

/// A ring about the z axis.
inline PlanOutline ring(double width, double hole_width) {
  PlanOutline plan;
  plan.inner = hole_width / 2, plan.outer = width / 2;
  return plan;
}

/// A rectangle about the z axis: width along x, length along y.
inline PlanOutline rectangle(double width, double length) {
  PlanOutline plan = ring(width, 0);
  plan.round = false;
  plan.x_from = -width / 2, plan.x_to = width / 2, plan.y_from = -length / 2, plan.y_to = length / 2;
  return plan;
}

/// The lowest and highest z of a surface over its plan [m].
struct HeightRange {
  double low = 0, high = 0;
};

}  // namespace dishwright
