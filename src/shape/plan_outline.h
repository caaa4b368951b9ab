// SPDX-License-Identifier: MIT
// The outline of a mirror in projection on its own x, y.
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

}  // namespace dishwright
