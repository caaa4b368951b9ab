// SPDX-License-Identifier: MIT
// A mirror as it was found by measuring.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// In the frame of the readings: origin on it under the middle of the rim, z square to the rim (points of a cloud: z along the
/// axis of the fitted shape from its vertex). Cut to a circle about the middle of the rim, or where length > 0 to a rectangle.
struct Measured {
  static constexpr ShapeWords words{"measured", "a measured mirror"};
  static constexpr bool may_wave = true;
  Heights surface;
  Vector3 meets_at = Vector3::Zero();  ///< where light along z meets, by the best fit [m]
  double low = 0, high = 0;            ///< of z [m]
  double middle_x = 0, middle_y = 0;   ///< of the rim [m]
  double width = 0, length = 0;        ///< along x, along y [m]
  double hole_width = 0;               ///< [m], 0 <= hole_width < width
  std::size_t readings = 0;            ///< that count
  double spacing = 0;                  ///< between them [m]
  std::uint64_t fingerprint = 0;       ///< of the surface

  std::vector<ShapeValue> values() const { return {fingerprint, width, length, hole_width}; }
  PlanOutline plan() const;
  HeightRange height_range() const { return {low, high}; }
  Heights heights() const { return surface; }
  Vector3 focus() const { return meets_at; }
  std::string details(const LengthWords& say) const;
};

}  // namespace dishwright
