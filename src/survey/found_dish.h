// SPDX-License-Identifier: MIT
// A dish that was found, not built: where its focus is, from a tape measure.
#pragma once

#include <optional>
#include <vector>

#include "base/estimate.h"

namespace dishwright {

/// What the tape says [m]. With a height the dish is an offset one: its rim is an ellipse.
struct FoundMeasures {
  double width = 0;              ///< rim to rim; the short way of an offset dish
  double depth = 0;              ///< deepest depth, square to the plane of the rim
  std::optional<double> height;  ///< the long way of an offset dish
  double tape = 0;               ///< every length is right to ± this
};

/// A string from the focus to a place on the rim.
struct RimString {
  std::string place;  ///< "top of the rim", "bottom of the rim", "each side of the rim"
  Estimate length;    ///< [m]
};

/// What follows. Standard errors: each length off evenly within ± tape, so tape/√3 each, independent.
struct FoundDish {
  bool offset = false;
  /// Centre-fed: f = D²/(16 d). Offset: f = W³/(16 d H), exact for a paraboloid cut by a cylinder along its axis: the rim plane
  /// leans by arccos(W/H), and the gap to the surface along the axis is W²/(16 f) at the middle of the rim.
  Estimate focal_length;
  Estimate low, high;    ///< focal length if all tape errors conspire [m]; no standard error
  Estimate focal_ratio;  ///< f/D
  Estimate rim_lean;     ///< offset: between rim plane and the plane across the axis [rad]
  Estimate clearance;    ///< offset: from the axis to the near edge of the rim [m]; negative: the axis passes inside the rim
  std::vector<RimString> strings;  ///< none where the focus is not known well enough to tie strings to
};

/// Strings are given while the focal length's standard error is no more than this share of it: at 24 in that is 1 1/4 in, a
/// whole wavelength of 10 GHz. Our choice, no source.
constexpr double well_known_focus = 0.05;

/// Throws InputError for lengths that no dish has.
FoundDish found_dish(const FoundMeasures& measures);

}  // namespace dishwright
