// SPDX-License-Identifier: MIT
// A mirror by a sampled curve.
#pragma once

#include "shape/mirror_shape.h"
#include "shape/profile_curve.h"

namespace dishwright {

/// A sampled curve turned about the z axis (width = 2 rim), or across x and drawn out along y, |y| <= length/2 (width = rim −
/// start). A dish whose curve starts off the axis has a hole of that size.
struct Profile {
  static constexpr ShapeWords words{"profile", "a profile"};
  std::shared_ptr<const ProfileCurve> curve;
  bool trough = false;
  double length = 0;      ///< of a trough, along y [m]
  double width = 0;       ///< rim to rim [m]
  double hole_width = 0;  ///< of a dish [m], 0 <= hole_width < width

  std::vector<ShapeValue> values() const;
  PlanOutline plan() const;
  HeightRange height_range() const { return {curve->lowest(), curve->highest()}; }
  Heights heights() const;
  Patches patches() const;
  std::string details(const LengthWords& say) const;
};

}  // namespace dishwright
