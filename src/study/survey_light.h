// SPDX-License-Identifier: MIT
// What a measured mirror does with the sun: share caught by each target, and which repair would gain most.
#pragma once

#include <string>
#include <vector>

#include "result/figures.h"
#include "scene/scene.h"
#include "survey/survey.h"
#include "survey/uses.h"

namespace dishwright {

/// A repair and what it would gain for the first target.
struct Repair {
  std::string kind;                ///< "move target", "flatten spots", "even out", "smooth surface"
  Estimate share;                  ///< caught after it [1]
  Vector3 move = Vector3::Zero();  ///< of the target, in the mirror's own axes [m]; "move target" only
};

struct SurveyLight {
  std::vector<std::string> targets;
  std::vector<Estimate> shares;  ///< of the mirror's light, one a target [1]; error: tracing and readings together
  std::vector<double> as_read;   ///< the same before the correction for the noise of the readings [1]
  std::vector<Estimate> meant;   ///< the same of the design [1]
  /// What would be lost of each share if the skin were flat from one reading to the next (hidden.h), everywhere or between the
  /// readings of one ring alone, whichever is worse [1].
  std::vector<double> at_risk;
  std::vector<double> ring_risks;  ///< of the first target, by each ring of survey.hidden alone [1]
  std::vector<Repair> repairs;     ///< best first; those that gain light in the trace
  Scene scene;                     ///< with the measured mirror in it, as traced
  TraceFigures figures;            ///< of that scene; maps included
};

/// Puts the measured surface itself in the place of the scene's first mirror, one that `held_against` takes, and
/// traces it. What smoothing takes away of the slopes that the readings show goes in as random slopes (`slope_error`); waves
/// shorter than about two spacings are in neither.
///
/// Noise of the readings: they are shaken by their own scatter twelve times more (parametric bootstrap [efrontibshirani1993,
/// §6.5]), and each surface is traced with the same random numbers. The spread of the shares
/// is the readings' part of the error. Noise only ever makes a surface rougher, so the mean drop that shaking makes is added once
/// (§10.6), and all of it counts as error; so does half of what the random slopes cost, for where they lie is a guess, and all
/// that humps cost which only one reading met.
///
/// What hides between the readings is in none of these figures. It is traced, too: the surface with a skin that is flat from
/// reading to reading along the rings; where the readings lie on no rings, the lean of such a skin goes in as random slopes.
SurveyLight survey_light(const Scene& scene, const Survey& survey, int threads);

/// Focal length of the scene's first mirror [m] (half the radius of a sphere); 0 where it has none.
double meant_focal_length(const Scene& scene);

}  // namespace dishwright
