// SPDX-License-Identifier: MIT
// Surfaces in single precision, as the ray tracing library asks for them: good enough to tell which surface a ray meets and about
// where.
#pragma once

#include "trace/embree.h"
#include "trace/scene_surfaces.h"

namespace dishwright {

/// A quadric surface (or one petal) in float, about a place of its own near the middle of the surface: far from the quadric's own
/// origin a float would lose the surface. a x² + b y² + c z² + 2 (g · p) + e = 0.
struct FloatPatch {
  float a, b, c, e;
  float g[3];
  Region<float> region;
  float turn[3][3];  // own = turn · (world − at)
  float at[3];
  float wedge_slack = 0;  // petals overlap by this much, so that no ray slips between [m]
  RTCBounds bounds;
};

/// A height over a plane in float, on a grid of square cells.
struct FloatHeights {
  Region<float> region;
  float turn[3][3];
  float at[3];
  float x_from = 0, y_from = 0, cell = 0, z_from = 0, z_to = 0;
  int columns = 0, rows = 0;  // of cells; one more of heights
  std::vector<float> height;
  float error = 0;  // largest distance between grid and true surface in the middle of a cell [m]
  RTCBounds bounds;
};

// `origin` is the world's own origin, in the frame.
/// All patches of a quadric surface or of petals.
std::vector<FloatPatch> float_patches(const Surface& surface, const Vector3& origin);
FloatHeights float_heights(const Surface& surface, const Vector3& origin);

/// Geometries with their callbacks and bounds; the data must outlive them.
RTCGeometry patch_geometry(RTCDevice device, const std::vector<FloatPatch>& patches, bool petals);
RTCGeometry height_geometry(RTCDevice device, const FloatHeights& heights);
/// Tiles and meshes as the library's own primitives. `per_element` is set to the number of primitives of one tile.
RTCGeometry tile_geometry(RTCDevice device, const Surface& surface, const Vector3& origin, unsigned& per_element);
RTCGeometry triangle_geometry(RTCDevice device, const Surface& surface, const Vector3& origin);

}  // namespace dishwright
