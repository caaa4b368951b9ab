// SPDX-License-Identifier: MIT
// Depths read on the tiles of a dish become the plane of each tile.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "survey/fit.h"
#include "survey/outliers.h"
#include "survey/tile_leans.h"
#include "survey/tiled_design.h"

namespace dishwright {

/// A tile with readings. Lean and height are against the design, in the tile's own frame: its plane is
/// z = height + lean · (x, y).
struct SurveyedTile {
  std::size_t tile = 0;                                  ///< its number in the layout
  std::vector<std::size_t> readings;                     ///< places of the survey on it
  bool has_plane = false;                                ///< three readings or more that span it; else its lean is not known
  double height = 0;                                     ///< [m]
  double height_error = 0;                               ///< [m]
  Eigen::Vector2d lean = Eigen::Vector2d::Zero();        ///< dz/dx, dz/dy; none without a plane [rad]
  Eigen::Matrix2d lean_noise = Eigen::Matrix2d::Zero();  ///< covariance of the lean by the noise of the readings [rad²]
  /// About one axis [rad].
  double lean_error() const { return std::sqrt(lean_noise.trace() / 2); }
};

/// How the middles of the tiles lie, by heights alone: z − design = level + lean · (x, y) + bend · r².
struct FrameFit {
  double level = 0;                                ///< taken off all readings [m]
  Eigen::Vector2d lean = Eigen::Vector2d::Zero();  ///< [rad]
  double bend = 0;                                 ///< [1/m]
  double rms = 0;                                  ///< what the heights of the tiles leave over [m]
  /// Errors of lean x, lean y and 2 bend by the heights, the slopes that they make [rad², rad/m, 1/m²].
  Eigen::Matrix3d covariance = Eigen::Matrix3d::Zero();
  /// What rounding of all tiles alike does to the trend of their leans (TileLeans::Trend).
  Eigen::Matrix<double, 5, 5> trend_covariance = Eigen::Matrix<double, 5, 5>::Zero();
  double over(const Eigen::Vector2d& place) const { return lean.dot(place) + bend * place.squaredNorm(); }
};

struct TileSurvey {
  TiledDesign design;
  SurveyPoints points;   ///< one a place, heights with the frame's level taken off
  std::size_t read = 0;  ///< readings in all
  std::vector<char> keep;
  std::vector<Outlier> set_aside;
  std::vector<SurveyedTile> tiles;  ///< those with readings, in the order of the layout
  double noise = 0;                 ///< standard deviation of one reading [m]
  double noise_freedom = 0;         ///< degrees of freedom behind it
  FrameFit frame;
  TileLeans leans;  ///< of the tiles that were to be read, and what they say of the others

  const SurveyedTile* of(std::size_t tile) const;  ///< null where it has no reading
  std::size_t with_plane() const;
  std::size_t height_only() const { return tiles.size() - with_plane(); }
  std::size_t unread() const { return design.tiles.size() - tiles.size(); }
  /// Rms over the tiles with a plane of the error that the readings leave in a lean, about one axis [rad].
  double lean_error() const;
};

/// Depths under a straightedge, held against the tiles of a design. Readings of one corner count once, as their mean. The noise
/// of a reading is that of rounding to the rule's marks, and what four and more readings of a tile leave over its plane beyond it
/// (tile_planes.h). `keep_all`: no reading is set aside; else of a tile whose readings fit no plane (by 6 robust standard
/// deviations and 3 steps) the one goes without which it leans least. Throws InputError: a cloud; readings on no tile; two
/// readings of one corner that differ by more than 3 steps, or one corner in another's stead; tiles of design.to_read without
/// readings; readings of another dish.
TileSurvey survey_tiles(SurveyPoints points, const Facets& facets, bool keep_all);

}  // namespace dishwright
