// SPDX-License-Identifier: MIT
// A whole survey: blunders set aside, shapes fitted, slopes mapped, worst spots found.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "survey/hidden.h"
#include "survey/measured_surface.h"
#include "survey/outliers.h"
#include "survey/repeats.h"
#include "survey/spots.h"
#include "survey/two_focal_lengths.h"

namespace dishwright {

struct Survey {
  SurveyPoints points;     ///< one a place
  Repeats repeats;         ///< how the readings became places
  std::vector<char> keep;  ///< 0 for places that were set aside
  std::vector<Outlier> set_aside;
  std::optional<TwoFocalLengths> two;  ///< where the dish is bent more one way than the other; the fits are of its round part
  FitSet fits;
  FitFigures figures;       ///< of the chosen fit
  SlopeMap map;             ///< about the chosen fit
  std::vector<Spot> spots;  ///< the worst five
  Hidden hidden;            ///< what the readings cannot show
  std::shared_ptr<const MeasuredSurface> surface;

  const ShapeFit& fit() const { return fits.chosen(); }
};

/// `expected`: the shape that was meant. `keep_all`: no reading is set aside. Throws InputError where the points fix no shape or
/// are no dish.
Survey survey_points(SurveyPoints points, ShapeKind expected, bool keep_all);
/// Held against a design of any shape, in whose own frame all that follows is. Throws InputError for clouds, where petals or bays
/// have no reading, and where the readings are not of that shape.
Survey survey_design(SurveyPoints points, const Meant& meant, bool keep_all);

}  // namespace dishwright
