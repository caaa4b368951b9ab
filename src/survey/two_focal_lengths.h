// SPDX-License-Identifier: MIT
// A dish that is bent more one way than the other: two focal lengths, square to each other.
#pragma once

#include <optional>
#include <vector>

#include "survey/fit.h"

namespace dishwright {

/// z = a + b·(x, y) + (x, y) H (x, y)ᵀ/2 over the rim, H with two unlike curvatures 1/(2f).
struct TwoFocalLengths {
  Estimate shorter, longer;    ///< [m]
  double short_direction = 0;  ///< along which the shorter one bends: 0 = +x, π/2 = +y, within ±π/2 [rad]
  Eigen::Matrix2d saddle = Eigen::Matrix2d::Zero();  ///< H without its round part [1/m]

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
