// SPDX-License-Identifier: MIT
// Readings that show no dish: flat, the wrong way up, or a bowl that lies on its side.
#pragma once

#include "survey/start.h"

namespace dishwright {

/// How the readings bend, from a quadric over them.
struct Bend {
  double mean = 0, error = 0;  ///< mean second derivative, + = bowl toward the sun, and its standard error [1/m]
  double strongest = 0;        ///< the larger principal second derivative [1/m]
  double reach = 0;            ///< of the readings from their middle [m]
  double sag = 0;              ///< strongest · reach²/2: how deep a bowl of this bend is [m]
  double scatter = 0;          ///< of the readings about the quadric, a few strays left out [m]
  double freedom = 0;          ///< readings less six
};
/// The error is that of a least-squares quadric with the readings' own robust scatter, at least their known noise.
Bend bend_of(const BowlFrame& frame, const SurveyPoints& survey);

/// Throws InputError where the readings are no dish: their bend is not clear of zero by 5 standard errors (more where readings
/// are few), the bowl is less deep
/// than one step of the readings, or its focal length is more than 200 times its width; or it is clearly the wrong way up (depths
/// only: a cloud has no
/// upper side). A real dish is clear of these by factors of 20 and more.
void refuse_no_dish(const SurveyPoints& survey, const std::vector<char>& keep);

/// Throws InputError where the readings are not of the shape that they are held against: they lie off it (robust
/// standard deviation, so that slips do not count) by more than a third of what its own heights differ by (rms)
/// over the readings.
void refuse_other_shape(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit);

/// Throws InputError where the best shape is no height over the readings' plane: numbers that are not finite, or an axis that
/// leans by more than 60 degrees
/// from square to the rim (a cloud: whose points seen along the axis lie on one line).
void refuse_on_its_side(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit);

}  // namespace dishwright
