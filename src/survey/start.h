// SPDX-License-Identifier: MIT
// Where a fit starts: the plane of the points and a quadric over it.
#pragma once

#include <vector>

#include "survey/bowl.h"
#include "survey/fit.h"

namespace dishwright {

/// Some of the points (at most 20 000) in a frame of their own, and the quadric over them.
struct BowlFrame {
  Vector3 middle = Vector3::Zero();  ///< of the points, in the frame of the readings [m]
  /// Columns: own axes; z is that of the readings for depths under a rim, else the points' flattest direction or z, bowl up.
  Matrix3 axes = Matrix3::Identity();
  double reach = 1;            ///< the unit of the quadric's places: twice the largest spread [m]
  std::vector<Vector3> local;  ///< points in that frame [m]
  Bowl bowl;
};
/// Least absolute deviations, so that a few blunders do not turn it over. Throws InputError where the points are too few, on a
/// line, on two lines or on a circle.
BowlFrame bowl_frame(const SurveyPoints& survey, const std::vector<char>& keep);

/// A first guess for one kind of shape.
PlacedShape first_guess(const BowlFrame& frame, ShapeKind kind);
PlacedShape first_guess(const SurveyPoints& survey, const std::vector<char>& keep, ShapeKind kind);

}  // namespace dishwright
