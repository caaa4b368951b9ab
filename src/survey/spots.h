// SPDX-License-Identifier: MIT
// The worst spots of a surface, where a student can find them.
#pragma once

#include <vector>

#include "survey/slope_map.h"

namespace dishwright {

/// A patch that stands off the fitted shape on one side.
struct Spot {
  Eigen::Vector2d place;    ///< of its top, in the readings' x and y [m]
  double height = 0;        ///< smoothed, along the normal, + = high (toward the sun) [m]
  double height_error = 0;  ///< [m]
  double across = 0;        ///< diameter of a disc as large as the part beyond half the height [m]
  std::vector<std::size_t> samples;
};

/// Up to `most` patches, largest height first; only those beyond twice their error and beyond half a step of the readings.
std::vector<Spot> worst_spots(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map, std::size_t most);

}  // namespace dishwright
