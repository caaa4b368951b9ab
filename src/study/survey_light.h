// SPDX-License-Identifier: MIT
// What a measured mirror does with the sun: share caught by each target, and which repair would gain most.
#pragma once

#include <string>
#include <vector>

#include "scene/scene.h"
#include "survey/survey.h"
#include "survey/uses.h"

namespace dishwright {

/// A repair and what it would gain for the first target.
struct Repair {
  std::string kind;                ///< "move target", "flatten spots", "smooth surface"
  Estimate share;                  ///< caught after it [1]
  Vector3 move = Vector3::Zero();  ///< of the target, in the mirror's own axes [m]; "move target" only
};

struct SurveyLight {
  std::vector<std::string> targets;
  std::vector<Estimate> shares;  ///< of the mirror's light, one a target [1]; error: tracing and readings together
  std::vector<Estimate> meant;   ///< the same of the design [1]
  std::vector<Repair> repairs;   ///< best first
};

/// Puts the measured mirror in the place of the scene's first mirror, which must be a paraboloid, sphere or trough, and traces it:
/// the fitted shape where it was found, with the measured slope error. Errors of the readings are carried through by tracing changed
/// mirrors with the same random numbers.
SurveyLight survey_light(const Scene& scene, const Survey& survey, int threads);

/// The kind of the scene's first mirror; throws InputError where a survey cannot be held against it.
ShapeKind meant_kind(const Scene& scene);
/// Its focal length [m] (half the radius of a sphere), width [m].
double meant_focal_length(const Scene& scene);
double meant_width(const Scene& scene);

}  // namespace dishwright
