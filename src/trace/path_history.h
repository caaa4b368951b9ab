// SPDX-License-Identifier: MIT
// One path of a trace, step by step: what `trace --replay N` prints. Taken from the same code that traces the crowd.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "trace/surface_search.h"

namespace dishwright {

enum class StepKind {
  from_sun,    ///< starts on the sun side; point = where the ray would meet the mirror, direction = the way the light travels
  from_lamp,   ///< leaves the lamp; point = where, own_point = there in the lamp's own frame
  shaded,      ///< a target (surface) caught it on its way in
  reflected,   ///< left a mirror (surface)
  target,      ///< landed on a counted face of a target (surface, face)
  back,        ///< absorbed by a back: of a mirror, of a disk, inside of a tube
  lid,         ///< absorbed by a pot's lid
  missed,      ///< left the scene
  not_counted  ///< the drawn point is not on the silhouette (hidden behind another mirror, or beside the mirrors): no path
};

struct Step {
  StepKind kind = StepKind::missed;
  std::string surface;                      ///< name of the reflector or target; empty for from_lamp and missed
  std::string face;                         ///< target: "front", "side", "base", "all round"
  Vector3 point = Vector3::Zero();          ///< in the frame [m]
  Vector3 own_point = Vector3::Zero();      ///< in the surface's own frame [m]
  Vector3 normal = Vector3::Zero();         ///< of the true surface, on the side that was hit; zero where there is none
  Vector3 tilted_normal = Vector3::Zero();  ///< reflected: the normal after slope error
  Vector3 direction = Vector3::Zero();      ///< the way the light travels after this step; zero where it ends
  double power_share = 1;                   ///< power left after this step / power at the start [1]
};

struct PathHistory {
  std::uint64_t path = 0;  ///< 0 … paths − 1
  std::uint64_t seed = 0;
  std::string unit = "W";
  double power = 0;  ///< the path's power at the start [W, or lm]
  std::vector<Step> steps;
};

/// Walks path number `path` (0 <= path < scene.trace.paths) of the scene's own trace.
PathHistory replay_path(const Scene& scene, std::uint64_t path);
/// Paths 0 … count − 1; the scene is set up once.
std::vector<PathHistory> replay_paths(const Scene& scene, std::uint64_t count, SearchBy search = SearchBy::scene);

}  // namespace dishwright
