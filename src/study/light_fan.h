// SPDX-License-Identifier: MIT
// The sunlight off the mirrors as a fan of narrow tubes: one trace tells how bright it is on any plane (decision 35).
#pragma once

#include <vector>

#include "trace/geometry.h"

namespace dishwright {

/// A tube of light on its last flight: its middle ray, and how that changes over the cell of sunlight that it stands for. The rays
/// of a tube are from + u from_u + v from_v, along + u along_u + v along_v, with u and v from −1/2 to 1/2.
struct Beamlet {
  Vector3 from, along;     ///< where it leaves the last mirror [m], and its way (unit vector)
  Vector3 from_u, from_v;  ///< [m]
  Vector3 along_u = Vector3::Zero(), along_v = Vector3::Zero();  ///< 0 for a tile's or a facet's: its rays are parallel
  double power = 0;                                              ///< [W]
  double skin = 0;  ///< rms about each axis of slope error and spread of the skin [rad]
  double blur = 0;  ///< the same with the sun's disc, half of its half angle [rad]
};

struct LightFan {
  std::vector<Beamlet> beams;
  double power = 0;                  ///< of all [W]
  double size = 0;                   ///< of the widest mirror, as the sun sees it [m]
  Vector3 middle = Vector3::Zero();  ///< mean place, by power [m]
  Vector3 along = Vector3::Zero();   ///< mean way, a unit vector; zero where the ways cancel out
};

/// Follows rays of the sun's middle through an even grid over each mirror, square to the sun; about `rays` in all. Of a scene
/// with a sun and without targets, whose geometry this is, whatever its sun's direction. A sun behind the mirrors gives no beams.
/// Left out: what the slope error does to the reflectance, and light that would end on a mirror's back only by its blur.
LightFan light_fan(const Scene& scene, const SceneGeometry& geometry, int rays);

}  // namespace dishwright
