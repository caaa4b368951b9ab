// SPDX-License-Identifier: MIT
// A dish that is bent more one way than the other: two focal lengths, square to each other.
#pragma once

#include <cmath>
#include <optional>
#include <vector>

#include "survey/fit.h"

namespace dishwright {

/// z = a + b·(x, y) + (x, y) H (x, y)ᵀ/2 over the rim, H with two unlike curvatures 1/(2f).
struct TwoFocalLengths {
  Estimate shorter, longer;    ///< [m]
  double short_direction = 0;  ///< along which the shorter one bends: 0 = +x, π/2 = +y, within ±π/2 [rad]
  Eigen::Matrix2d saddle = Eigen::Matrix2d::Zero();  ///< H without its round part [1/m]
  double lean = 0;                                   ///< of the saddle: rms about one axis over the readings' disc [rad]
  Estimate across;                                   ///< height = across · x y: its part between the axes [1/m]
  /// Worth telling: the two differ by more than two of their own errors, and `lean` is 1.9 mrad or more. A dish that leans by
  /// 4 mrad here and there (our starters; common practice, no source) makes a spot of √((2 · 4)² + 2.3²) mrad about one axis, the
  /// sun's disc being 2.3; a saddle of 1.9 makes it wider by a tenth. A smaller one is taken off before a shape is fitted all
  /// the same, or else a lean would have to stand for it.
  bool matters = false;
  /// The long and the short way lie within 10 degrees of half way between the axes: a twist.
  bool is_twist() const { return std::abs(saddle(0, 0)) < 0.364 * std::abs(saddle(0, 1)); }

  /// Height of the surface over the round dish of the mean bend [m].
  double over_round(double x, double y) const { return Eigen::Vector2d(x, y).dot(saddle * Eigen::Vector2d(x, y)) / 2; }
};

/// Found where the quadric fits better than the level round dish beyond doubt, as in fit_all, and a leaning round dish, which
/// has as many numbers, fits no better. A leaning dish bends less along its lean, too; but it has coma besides, and it would
/// have to lean by 10 degrees and more. Nothing for clouds, which have no rim to be level with, nor where one way is bent less
/// than a third of the other (a trough).
std::optional<TwoFocalLengths> two_focal_lengths(const SurveyPoints& survey, const std::vector<char>& keep);

/// The survey of the round dish of the mean bend: heights less `over_round`.
SurveyPoints made_round(const SurveyPoints& survey, const TwoFocalLengths& two);

}  // namespace dishwright
