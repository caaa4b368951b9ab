// SPDX-License-Identifier: MIT
// What a mirror does to light: it takes its share, tilts by the slope of its surface, and spreads.
#pragma once

#include "scene/scene.h"
#include "trace/rays.h"
#include "trace/scene_surfaces.h"

namespace dishwright {

/// The standard normals of a group of reflections: slope about two tangent axes, spread about two axes across the ray.
struct MirrorDraws {
  BlockArray<float> slope_a, slope_b, spread_a, spread_b;
};

/// What the rays that leave a mirror know of it: RayBlock::own_surface, World::start_gap() and grid_error().
struct StartKnown {
  int own_surface = -1;
  float gap = 0, grid_error = 0;
};

/// Reflects arrivals begin … end−1 at one mirror and appends them to `rays` in the frame.
///
/// Law: d' = d − 2 (d·m) m with the unit normal m tilted by Gaussian slopes of rms `slope_error` about each tangent axis. The ray
/// so turns 2σ in the plane of incidence and 2σ cos i across it. `specular_spread` then tilts the ray itself about both axes
/// across it. Light that would turn into the surface is absorbed.
/// `normals`, where not null, receives the true and the tilted unit normals of each arrival in the frame (for replay).
struct MirrorNormals {
  BlockArray<double> nx, ny, nz, mx, my, mz;
};
/// Weights, whole numbers: their sum is what arrived.
struct Shares {
  double absorbed = 0, reflected = 0;
};
Shares reflect(const Reflector& reflector, const Surface& surface, const Arrivals& arrivals, int begin, int end,
               const MirrorDraws& draws, const StartKnown& start, RayBlock& rays, MirrorNormals* normals);

}  // namespace dishwright
