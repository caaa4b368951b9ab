// SPDX-License-Identifier: MIT
// The plane of a tile through its readings, and the noise that rounding and scatter make in it.
#pragma once

#include "survey/tile_survey.h"

namespace dishwright {

/// A reading in the frame of its tile as designed [m].
Vector3 in_tile(const TileSurvey& survey, const SurveyedTile& on, std::size_t reading);
/// The readings of a tile that count.
std::vector<std::size_t> kept_readings(const TileSurvey& survey, const SurveyedTile& tile);

/// Least squares of a plane through readings of a tile.
struct TilePlane {
  bool spanned = false;                               ///< three readings or more that span the tile
  Vector3 numbers = Vector3::Zero();                  ///< height [m], dz/dx, dz/dy
  Eigen::Matrix3d inverse = Eigen::Matrix3d::Zero();  ///< covariance of the numbers for readings of variance 1
  std::vector<double> misses, leverage;               ///< of each reading
};
TilePlane plane_through(const TileSurvey& survey, const SurveyedTile& tile, const std::vector<std::size_t>& readings);

/// Step of the rule; that of a usual one where the readings show none [m].
double mark_of(const SurveyPoints& points);

/// Fits all planes. Their noise is taken as that of independent rounding until `find_noise` says better.
void fit_planes(TileSurvey& survey);

/// Noise of each tile's height and lean, and of one reading. Corners of tiles in regular rows are rounded alike, by which a
/// lean comes out far better or worse than independent roundings would let it; so the rounding is done: each tile as its
/// readings have it, leaning about the trend by the spread found, is read and rounded sixty-four times. What the planes leave
/// over beyond that, pooled, is scatter. Needs the tiles' leans; they change with it.
void find_noise(TileSurvey& survey);

}  // namespace dishwright
