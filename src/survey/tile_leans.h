// SPDX-License-Identifier: MIT
// What the leans of the tiles that were read say: how all lean together, how they scatter, and how the others may lean.
#pragma once

#include <Eigen/Core>
#include <cstdint>
#include <optional>
#include <vector>

#include "base/estimate.h"
#include "survey/tiled_design.h"

namespace dishwright {

struct TileSurvey;

/// Leans are d = trend(place) + own lean + noise. The trend is that of a frame that leans and is bent: its slope at (x, y) is
/// (g1 + k x + s x + t y, g2 + k y − s y + t x). Own leans scatter with the variance spread² about each axis; the noise is that
/// of the readings, known for each tile. Trend by generalised least squares, spread² by what is left over: the mean square less
/// the noise, with the trend's numbers as lost degrees of freedom (a random-effects model by the method of moments
/// [dersimonianlaird1986]). The trend is drawn toward the slope that the heights of the tiles show, which is known far better, by
/// James and Stein's rule [jamesstein1961]: all the way where it differs by no more than its errors. Tiles are rounded alike, so the error of the trend is that of independent
/// leans and that of all rounded together (FrameFit::trend_covariance).
struct TileLeans {
  using Trend = Eigen::Matrix<double, 5, 1>;  // g1, g2, k, s, t
  Trend trend = Trend::Zero();
  Eigen::Matrix<double, 5, 5> trend_covariance = Eigen::Matrix<double, 5, 5>::Zero();
  int numbers = 0;           ///< of the trend: 5 with twelve tiles and more, 3 (no s, t) with six, else 0
  double total = 0;          ///< variance about the trend, noise and all [rad²]
  double noise = 0;          ///< mean variance that the readings' noise makes [rad²]
  double freedom = 0;        ///< degrees of freedom of `total`
  double noise_freedom = 0;  ///< of `noise`
  double spread() const { return std::sqrt(std::max(0.0, total - noise)); }  ///< about one axis [rad]
  /// The spread with its error; where it is not more than the error, the error is what it may be.
  Estimate spread_estimate() const;
  /// Rms of all that a tile leans off its design about one axis, trend and spread [rad].
  double all = 0;
};

/// How many numbers the trend of so many tiles has: 5, 3 or 0.
int trend_numbers(std::size_t tiles);

/// The lean that the trend alone gives a tile, in its own frame [rad].
Eigen::Vector2d trend_lean(const TileLeans::Trend& trend, const Tile& tile);

/// Of the tiles with a plane that were to be read.
TileLeans tile_leans(const TileSurvey& survey);

/// Tiles as they may be, given the readings: number 0 is the plain one, in which each lean is drawn back toward the trend until
/// the leans scatter as the tiles do without the noise; others are draws from the posterior: spread, noise and trend within
/// their errors, each lean by the normal law given its reading, and each tile that was not read leaning as one that was,
/// picked by chance, does about the trend (Bayesian bootstrap [rubin1981]). The same number gives the same tiles. Tiles with a
/// height alone lean as the trend says.
std::vector<Tile> drawn_tiles(const TileSurvey& survey, int number);

}  // namespace dishwright
