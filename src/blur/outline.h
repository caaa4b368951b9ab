// SPDX-License-Identifier: MIT
// Rims of mirrors: what can stand in the way of what.
#pragma once

#include "scene/mirror_patch.h"
#include "shape/quadric.h"

namespace dishwright {

/// A mirror as a convex bowl or trough, own frame.
struct Outline {
  Quadric<double> quadric;
  bool known = true;  ///< the shape is one of those below
  bool round = false;
  double half_x = 0, half_y = 0;  ///< rim radius, or half width and length [m]
  double hole = 0;                ///< radius [m]
  double top = 0;                 ///< height of the rim [m]
  explicit Outline(const ReflectorShape& shape);

  /// Distance from the axis (bowl) or from the middle plane (trough) [m].
  double off_axis(const Vector3& own) const;
  double height(const Vector3& own) const;
  /// Seen along the axis, is the place over the mirror (hole included)?
  bool over(const Vector3& own) const;
  /// Would the place be behind the mirror or beside it below the rim, so that light from the mirror cannot reach it?
  bool hides(const Vector3& own) const;
  /// Area that the sun in this direction (own frame, bright side everywhere) sees [m²].
  double silhouette(const Vector3& own_sun) const;
  /// Does the straight way from a place in a direction (own frame) meet the mirror, hole left out?
  bool blocks(const Vector3& own, const Vector3& direction) const;
};

}  // namespace dishwright
