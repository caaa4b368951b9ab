// SPDX-License-Identifier: MIT
// Surfaces in single precision, as both searches look for them: good enough to tell which surface a ray meets and about where.
#pragma once

#include <vector>

#include "trace/scene_surfaces.h"

namespace dishwright {

/// A rectangle of space along the axes of the frame [m].
struct FloatBox {
  float low[3], high[3];
};

/// A quadric surface (or one petal) in float, about a place of its own near the middle of the surface: far from the quadric's own
/// origin a float would lose the surface. a x² + b y² + c z² + 2 (g · p) + e = 0.
struct FloatPatch {
  float a, b, c, e;
  float g[3];
  Region<float> region;
  float turn[3][3];  // own = turn · (world − at)
  float at[3];
  float wedge_slack = 0;  // petals overlap by this much, so that no ray slips between [m]
  bool turned = true;     // is `turn` anything but 1?
  bool flat = false;      // across its own z: a = b = c = 0
  FloatBox box;
};

/// Petals in float: the first one, in whose frame the others stand turned about z.
struct FloatPetals {
  FloatPatch first{};
  int count = 0;
  std::vector<float> cosine, sine;  // of their azimuths
  float z_from = 0, z_to = 0;       // of the dish, a little more
  FloatBox box{};
};

/// A height over a plane in float, on a grid of square cells.
struct FloatHeights {
  Region<float> region;
  float turn[3][3];
  float at[3];
  bool turned = true;
  float x_from = 0, y_from = 0, cell = 0, z_from = 0, z_to = 0;
  int columns = 0, rows = 0;  // of cells; one more of heights
  std::vector<float> height;
  float error = 0;  // largest distance between grid and true surface in the middle of a cell [m]
  FloatBox box;
};

// `origin` is the world's own origin, in the frame.
/// All patches of a quadric surface or of petals.
std::vector<FloatPatch> float_patches(const Surface& surface, const Vector3& origin);
FloatPetals float_petals(const Surface& surface, const Vector3& origin);
FloatHeights float_heights(const Surface& surface, const Vector3& origin);

}  // namespace dishwright
