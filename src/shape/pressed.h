// SPDX-License-Identifier: MIT
// The dish pressed from a flat sheet that is held at its rim: by air or water, evenly.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// A round sheet, clamped all round its rim r = R = width/2 under even pressure, stays flat at the rim and sinks in the middle by
/// `depth`. Small deflection of a thin elastic plate: sag ∝ (1 − r²/R²)² [timoshenko1959, section 16, eq. 62, there as w = q (a²
/// − r²)²/(64 D)]. From the middle,
///   z = depth (1 − (1 − r²/R²)²),  dz/dr = (4 depth/R²) r (1 − r²/R²).
/// Steepest at r = R/√3; near the middle the paraboloid of focal length R²/(8 depth), toward the rim ever flatter, so the light
/// spreads. What is left
/// out: stretching of the sheet, which makes deep pressings (beyond about its thickness) rounder, and spring-back. Lengths from
/// 0.1 mm to 1 km.
struct Pressed {
  static constexpr ShapeWords words{"pressed", "a pressed sheet"};
  double width = 0;       ///< rim to rim: 2 R [m]
  double depth = 0;       ///< middle to the plane of the rim [m]
  double hole_width = 0;  ///< [m], 0 <= hole_width < width

  auto values() const { return std::tie(width, depth, hole_width); }
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const { return {0, depth}; }
  Heights heights() const;
  /// Of rays near the axis.
  Vector3 focus() const { return {0, 0, width * width / (32 * depth)}; }
};

}  // namespace dishwright
