// SPDX-License-Identifier: MIT
// A plain tracer to check the production one against: scalar, double, one ray at a time, its own random numbers
// (std::mt19937_64), its own intersections, no acceleration. It shares only the scene data and `Estimate` with the program.
//
// It paints the sun as it is: each direction of the disc floods all space evenly (density ∝ radiance · cos θ through a plane that
// faces the sun's centre). A ray starts anywhere on a rectangle that covers the mirrors, as any part of the disc sees them, and
// belongs to what it meets first. The production tracer starts from points of mirrors, or from a mask over each; the two agree,
// half-shadows too.
//
// A lamp's rays start evenly on its surface and take a direction by rejection: any direction, kept with the probability that the
// cosine law gives it there (the sine law for a line). The production tracer draws a ball's directions first and its places
// after.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/estimate.h"
#include "scene/scene.h"
#include "trace/path_history.h"

namespace dishwright::reference {

struct Ray {
  Vector3 from;   ///< [m]
  Vector3 along;  ///< unit vector, the way the light travels
};

/// Which side of a thing was hit.
enum class Side { mirror, mirror_back, counted, back, lid };

struct Hit {
  double distance = 0;  ///< along the ray [m]
  Vector3 point, own_point;
  Vector3 normal;  ///< unit, on the side that was hit, in the frame
  Side side = Side::mirror;
  std::string name, face;  ///< of the thing; face as in a PathHistory
};

/// The nearest meeting beyond `least` metres with any mirror or target, or with any mirror or shading target.
std::optional<Hit> first_hit(const Scene& scene, const Ray& ray, double least, bool shading_targets_only);

/// Reflected light that landed on a counted face.
struct Landing {
  Vector3 own;       ///< place in the target's own frame [m]
  double power = 0;  ///< [W]
};

struct TargetResult {
  std::string name;
  Estimate power, direct_power;
  std::optional<Estimate> intercept, spot_width_50, spot_width_90, spot_rms_radius;
  std::optional<std::array<Estimate, 2>> centroid;
  std::vector<std::vector<Landing>> landings;  ///< by batch
};

struct Result {
  Estimate aperture_power;                 ///< sampled: all light that meets mirrors, or would but for a shading target
  std::map<std::string, Estimate> ledger;  ///< names as in TraceFigures
  std::vector<TargetResult> targets;
  std::optional<Estimate> caught_share;  ///< of a lamp's light: meets the bright side of a mirror first
  double lost = 0;                       ///< power still alive after 64 bounces [W]
};

/// Traces `paths` rays of the lamp; or of the sun from a rectangle over the mirrors, and a quarter as many over the targets for
/// their direct light, in 40 batches from which the standard errors come.
Result trace(const Scene& scene, std::uint64_t paths, std::uint64_t seed);

/// Mean irradiance over a disc of the given diameter about own (x, y) of a flat target [W/m²].
Estimate irradiance(const TargetResult& target, double x, double y, double diameter);

/// One step of a path walked anew.
struct Followed {
  StepKind kind = StepKind::missed;
  std::string surface, face;
  Vector3 point, own_point, normal;
  Vector3 direction;  ///< reflected: from the law of reflection about the story's tilted normal
};

/// Walks the path of a story again from its start: own intersections and reflections; from the story come the starting point and
/// direction, the tilted normals and, where the mirror spreads light, the direction after spreading. Answers steps[1 …].
std::vector<Followed> walk_given_start(const Scene& scene, const PathHistory& story);

}  // namespace dishwright::reference
