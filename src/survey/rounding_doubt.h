// SPDX-License-Identifier: MIT
// How sure the numbers of a fit are when the readings come in the marks of a rule.
#pragma once

#include <functional>
#include <vector>

#include "survey/fit.h"

namespace dishwright {

/// What a straightedge that is laid down anew changes, in marks at the rim.
enum class Relaid {
  level,   ///< it lies a random part of a mark higher, and the dish is up to half a mark deeper or shallower
  leaning  ///< besides, it leans by up to half a mark either way
};

/// Errors of the kept readings [m, along z], one list a draw, each what another survey of a surface like this one would have,
/// read with the same rule; the surface scatters by `scatter` [m] and is rounded to the survey's step. `heights`: of the surface
/// at the kept readings [m]. On a level ring all readings are rounded alike, and so they are here. `draws` >= 1; no lists where
/// the readings have no step.
std::vector<std::vector<double>> rounding_draws(const SurveyPoints& survey, const std::vector<char>& keep,
                                                const std::vector<double>& heights, double scatter, Relaid relaid, int draws);

/// The covariance of the fitted numbers with the rounding done in place of assumed (parametric bootstrap
/// [efrontibshirani1993, §6.5]): 200 draws of reading errors, carried through the linearised fit, with the
/// straightedge level and again leaning; of each number the larger variance counts, for a level ring hides its rounding from the
/// focal length and a leaning one from the tilt. That of the fit itself, which takes readings for independent, where they have
/// no step or the points are a cloud.
Eigen::Matrix<double, fit_numbers, fit_numbers> covariance_with_rounding(const SurveyPoints& survey,
                                                                         const std::vector<char>& keep, const ShapeFit& fit);

}  // namespace dishwright
