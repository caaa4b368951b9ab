// SPDX-License-Identifier: MIT
// The exact place where a ray meets a surface, in double on the true surface, and the surface's normal there.
#pragma once

#include "trace/rays.h"
#include "trace/scene_surfaces.h"

namespace dishwright {

/// Rays that the world says meet one surface, and where they do.
struct Meetings {
  BlockArray<double> x, y, z;         ///< point, own frame of the surface [m]
  BlockArray<double> dx, dy, dz;      ///< direction of travel, own frame
  BlockArray<double> nx, ny, nz;      ///< normal toward the bright side, own frame, any length; mirrors only
  BlockArray<double> gap;             ///< exact distance − the world's [m]; not finite where there is no crossing
  BlockArray<double> facing;          ///< sign of direction · normal: < 0 on the front
  BlockArray<float> at;               ///< the world's distance [m]
  BlockArray<std::uint32_t> element;  ///< which petal, tile or triangle
};

/// Rays as columns, in the frame.
struct RayColumns {
  const double *ox, *oy, *oz, *dx, *dy, *dz;
  const float* distance;
};

/// Solves rays 0 … count − 1. `rays` may be the columns of `out` itself (x, y, z, dx, dy, dz, at). `out.element` must be set
/// where the surface has elements.
void solve(const Surface& surface, const RayColumns& rays, int count, Meetings& out);

/// Normals at points of a quadric surface, toward its front.
inline void quadric_normals(const Surface& surface, int begin, int end, Arrivals& arrivals) {
  const Quadric<double> q = surface.quadric;
  const double sign = surface.front_sign;
#pragma omp simd
  for (int i = begin; i < end; ++i) {
    arrivals.nx[i] = sign * (q.a * arrivals.x[i]), arrivals.ny[i] = sign * (q.b * arrivals.y[i]);
    arrivals.nz[i] = sign * (q.c * arrivals.z[i] - q.d);
  }
}

}  // namespace dishwright
