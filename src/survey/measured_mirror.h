// SPDX-License-Identifier: MIT
// A survey becomes a mirror that can be traced.
#pragma once

#include "survey/survey.h"

namespace dishwright {

/// The rim of a measured mirror [m]; what is 0 is taken from the readings: a circle (or box, for a trough) that just holds them.
struct MeasuredRim {
  double width = 0, length = 0;  ///< length > 0: a rectangle
  double hole_width = 0;
  double middle_x = 0, middle_y = 0;
};

/// The mirror of a survey. Depths under a rim: the rim is about the origin. Clouds without a given width: about the middle of the
/// points. Throws InputError where the surface ends inside the rim or stands upright there.
Measured measured_mirror(const Survey& survey, const MeasuredRim& rim);
/// The same rim and place with another surface over the same readings.
Measured with_surface(const Measured& mirror, MeasuredSurface surface);

/// How far across the readings reach [m]: diameter of the circle about the origin that holds them; along x and y for a rectangle.
Eigen::Vector2d readings_reach(const Survey& survey, bool rectangle);

}  // namespace dishwright
