// SPDX-License-Identifier: MIT
// A cut through a scene of sunlight, with rays that follow a ruler: what the side view draws, and the three rays that tell why a
// spot blurs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "trace/sight_rays.h"

namespace dishwright {

/// A place in the plane of the cut: across, and along the first mirror's axis (up, toward the sun) [m].
struct CutPoint {
  double across = 0, up = 0;
};

/// A ray of the middle of the sun's disc.
struct CutRay {
  double across = 0;          ///< where it meets the mirror; its side of the axis [m]
  std::vector<CutPoint> way;  ///< from the sun side to its end; a ray that leaves has no end
  CutPoint toward;            ///< unit direction of its last flight
  SightEnd end = SightEnd::missed;
  int target = -1;                   ///< that it ends on, −1 = none
  std::string face;                  ///< of that target
  Vector3 landed = Vector3::Zero();  ///< in the target's own frame [m]
  /// Along the first target's own x and y, where the ray crosses the plane of its plate or of a pot's base; of other targets and
  /// of rays that run away from it none [m].
  std::optional<CutPoint> on_plane;
  std::optional<CutPoint> aimed_true;  ///< the same with the aim error taken off; of named rays [m]
};

/// Rays named by where they meet the mirror: the middle, the rim on the side that the sun leans to, the rim on the other side.
struct NamedRays {
  CutRay middle, near_rim, far_rim;
};

/// The cut holds the first mirror's axis and the sun; of a trough it runs across. Of a sun on the axis it holds own x.
struct SideView {
  Vector3 origin = Vector3::Zero(), across = Vector3::UnitX(), up = Vector3::UnitZ();  ///< in the frame
  std::vector<std::vector<CutPoint>> profile;                                          ///< lines of the mirrors, each unbroken
  std::vector<std::vector<CutPoint>> targets;                                          ///< outline of each, as a polygon
  std::vector<char> cut_targets;       ///< by target: 1 where the cut goes through it, 0 where it stands before or behind
  std::vector<CutRay> rays;            ///< a handful, from one side to the other
  std::optional<NamedRays> named;      ///< where the mirror reflects all three
  double depth = 0;                    ///< of the first mirror, from the middle or lowest place to the rim [m]
  double width = 0;                    ///< of the first mirror in the cut [m]
  std::optional<double> focal_length;  ///< of the first mirror: along `up` from its vertex [m]
  CutPoint sun_side;       ///< unit direction in the first target's own x and y to which the sun leans; zero where it does not
  double sun = 0;          ///< lean of the sun in the cut, toward `across` [rad]
  bool offset = false;     ///< the first mirror's middle does not lie on its axis
  int petals = 0;          ///< that the first mirror is made of; 0: it is none of petals
  bool directrix = false;  ///< the curve is a parabola: as far below the vertex as the focus is above
};

/// Of a scene with a sun; throws InputError for others.
SideView side_view(const Scene& scene);

}  // namespace dishwright
