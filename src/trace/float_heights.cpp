// SPDX-License-Identifier: MIT
// A height over a plane, met by rays on the vector lanes.
#include "trace/float_lanes.h"

namespace dishwright {

namespace {

/// Height of the grid, straight between its points.
inline Lanes grid_height(const FloatHeights& heights, const Lanes& x, const Lanes& y) {
  const Lanes per(1 / heights.cell);
  const Lanes column =
      xsimd::min(xsimd::max((x - Lanes(heights.x_from)) * per, Lanes(0)), Lanes(static_cast<float>(heights.columns) - 0.001F));
  const Lanes row =
      xsimd::min(xsimd::max((y - Lanes(heights.y_from)) * per, Lanes(0)), Lanes(static_cast<float>(heights.rows) - 0.001F));
  const WholeLanes i = xsimd::to_int(column), j = xsimd::to_int(row);
  const Lanes a = column - xsimd::to_float(i), b = row - xsimd::to_float(j);
  const WholeLanes place = j * WholeLanes(heights.columns + 1) + i;
  const float* from = heights.height.data();
  const Lanes h00 = gather(from, place), h10 = gather(from + 1, place);
  const Lanes h01 = gather(from + heights.columns + 1, place), h11 = gather(from + heights.columns + 2, place);
  const Lanes low = xsimd::fma(a, h10 - h00, h00), high = xsimd::fma(a, h11 - h01, h01);
  return xsimd::fma(b, high - low, low);
}

/// Walks through the box of a height surface in even steps; where the ray changes sides, halves and secants close in on the
/// crossing.
Lanes march(const FloatHeights& heights, const OwnLanes& ray, const Lanes& near_end, const Lanes& far_end) {
  constexpr int steps = 24, refinements = 4;
  Lanes from = near_end - ray.ahead, to = far_end - ray.ahead;
  const float x_to = heights.x_from + static_cast<float>(heights.columns) * heights.cell,
              y_to = heights.y_from + static_cast<float>(heights.rows) * heights.cell;
  // The part of each ray within the box, and within the cylinder of a round rim.
  clip(ray.x, ray.u, heights.x_from, x_to, from, to);
  clip(ray.y, ray.v, heights.y_from, y_to, from, to);
  clip(ray.z, ray.w, heights.z_from, heights.z_to, from, to);
  if (heights.region.r2_to < Region<float>::far) clip_round(heights.region, ray, from, to);
  Lanes found = far_end;
  if (!xsimd::any(from < to)) return found;
  const auto above = [&](const Lanes& t) {
    return xsimd::fma(t, ray.w, ray.z) - grid_height(heights, xsimd::fma(t, ray.u, ray.x), xsimd::fma(t, ray.v, ray.y));
  };
  // Even steps: the first one on which a ray changes sides holds the crossing.
  const Lanes step = (to - from) * Lanes(1.0F / steps);
  const Marks alive = from < to;
  Lanes t0 = from, f0 = above(from);
  for (int k = 0; k < steps; ++k) {
    const Lanes t1 = t0 + step, f1 = above(t1);
    const Marks crosses = alive & (found >= far_end) & ((f0 >= Lanes(0)) != (f1 >= Lanes(0)));
    if (xsimd::any(crosses)) {
      // False position, and once a halving where that creeps.
      Lanes a = t0, fa = f0, b = t1, fb = f1;
      for (int r = 0; r < refinements; ++r) {
        const Lanes middle =
            r == 1 ? (a + b) * Lanes(0.5F) : a - fa * (b - a) / (fb - fa + xsimd::copysign(Lanes(1e-30F), fb - fa));
        const Lanes f = above(middle);
        const Marks same = (f >= Lanes(0)) == (fa >= Lanes(0));
        a = xsimd::select(same, middle, a), fa = xsimd::select(same, f, fa);
        b = xsimd::select(same, b, middle), fb = xsimd::select(same, fb, f);
      }
      const Lanes t = a - fa * (b - a) / (fb - fa + xsimd::copysign(Lanes(1e-30F), fb - fa));
      // It counts within the outline, beyond the start, before what was found already.
      const Marks in =
          inside<false>(heights.region, 0, xsimd::fma(t, ray.u, ray.x), xsimd::fma(t, ray.v, ray.y), xsimd::fma(t, ray.w, ray.z));
      const Lanes distance = t + ray.ahead;
      found = xsimd::select(crosses & in & (distance > near_end) & (distance < found), distance, found);
    }
    t0 = t1, f0 = f1;
  }
  return found;
}

}  // namespace

Lanes meet_heights(const FloatHeights& heights, const RayLanes& rays, const Lanes& far_end) {
  return march(heights, own_rays(heights, rays), rays.near_end, far_end);
}

}  // namespace dishwright
