// SPDX-License-Identifier: MIT
// Where rays meet surfaces in single precision, on the vector lanes. Both searches call these very functions, so both find the
// same digits.
#pragma once

#include <algorithm>
#include <cmath>
#include <xsimd/xsimd.hpp>

#ifdef __AVX2__
#include <immintrin.h>
#endif

#include "trace/float_shapes.h"

namespace dishwright {

using Lanes = xsimd::batch<float>;
using Marks = xsimd::batch_bool<float>;
using WholeLanes = xsimd::batch<std::int32_t>;
constexpr int lane_count = static_cast<int>(Lanes::size);

/// Some rays, one a lane, and what is known of where they start.
struct RayLanes {
  Lanes x, y, z, u, v, w;  ///< start and direction, in the world's frame
  Lanes near_end;          ///< hits count beyond [m]
  Lanes own_surface;       ///< quadric surface that the ray starts on, −1 = none
  Lanes own_again;         ///< where it meets that surface's whole quadric again [m]
};

/// Rays in the own frame of a surface.
struct OwnLanes {
  Lanes x, y, z, u, v, w;  ///< place nearest to the surface's own origin, and direction
  Lanes ahead;             ///< distance of that place from the start
};

/// Rays in the own frame of anything with `turn` and `at`.
template <class Placed>
inline OwnLanes own_rays(const Placed& surface, const RayLanes& ray) {
  Lanes x = ray.x - Lanes(surface.at[0]), y = ray.y - Lanes(surface.at[1]), z = ray.z - Lanes(surface.at[2]);
  Lanes u = ray.u, v = ray.v, w = ray.w;
  if (surface.turned) {
    const auto row = [&](int k, const Lanes& a, const Lanes& b, const Lanes& c) {
      const auto& m = surface.turn[k];
      return xsimd::fma(Lanes(m[0]), a, xsimd::fma(Lanes(m[1]), b, Lanes(m[2]) * c));
    };
    const Lanes px = x, py = y, pz = z;
    x = row(0, px, py, pz), y = row(1, px, py, pz), z = row(2, px, py, pz);
    u = row(0, ray.u, ray.v, ray.w), v = row(1, ray.u, ray.v, ray.w), w = row(2, ray.u, ray.v, ray.w);
  }
  // From a place near the surface a float tells a small ball from its surroundings; from far away its radius drowns in the
  // distance.
  const Lanes ahead = -xsimd::fma(x, u, xsimd::fma(y, v, z * w));
  return {xsimd::fma(ahead, u, x), xsimd::fma(ahead, v, y), xsimd::fma(ahead, w, z), u, v, w, ahead};
}

/// Is a place on the surface?
template <bool wedged>
inline Marks inside(const Region<float>& region, float slack, const Lanes& x, const Lanes& y, const Lanes& z) {
  const Lanes aside = x - Lanes(region.x_middle), off = y - Lanes(region.y_middle), r2 = xsimd::fma(aside, aside, off * off);
  const Marks in = (r2 >= Lanes(region.r2_from)) & (r2 <= Lanes(region.r2_to)) & (xsimd::abs(aside) <= Lanes(region.x_half)) &
                   (xsimd::abs(off) <= Lanes(region.y_half)) & (z >= Lanes(region.z_from)) & (z <= Lanes(region.z_to));
  if constexpr (wedged) return in & (xsimd::abs(y) <= xsimd::fma(Lanes(region.wedge), x, Lanes(slack)));
  return in;
}

template <bool wedged>
inline Marks inside(const FloatPatch& patch, const OwnLanes& ray, const Lanes& t) {
  return inside<wedged>(patch.region, patch.wedge_slack, xsimd::fma(t, ray.u, ray.x), xsimd::fma(t, ray.v, ray.y),
                        xsimd::fma(t, ray.w, ray.z));
}

/// Nearest distance within (near, far) at which these rays meet a flat patch; `far` where they do not. The steps of meet() below
/// without those that change nothing for a plane.
inline Lanes meet_flat(const FloatPatch& patch, const OwnLanes& ray, const Lanes& near_end, const Lanes& far_end) {
  const Lanes twice(2 * patch.g[2]);
  const Lanes step = xsimd::fma(twice, ray.z, Lanes(patch.e)) / (-(twice * ray.w));
  const Lanes t = step + ray.ahead;
  return xsimd::select((t > near_end) & (t < far_end) & inside<false>(patch, ray, step), t, far_end);
}

/// Nearest distance within (near, far) at which these rays meet the patch; `far` where they do not.
template <bool wedged>
inline Lanes meet(const FloatPatch& patch, const OwnLanes& ray, const Lanes& near_end, const Lanes& far_end) {
  const FloatPatch& q = patch;
  // A t² + 2 B t + C = 0 by the form that loses no digits; not-a-number and infinity fail every comparison below.
  const Lanes ax = xsimd::fma(Lanes(q.a), ray.x, Lanes(q.g[0])), by = xsimd::fma(Lanes(q.b), ray.y, Lanes(q.g[1])),
              cz = xsimd::fma(Lanes(q.c), ray.z, Lanes(q.g[2]));
  const Lanes qa = Lanes(q.a) * ray.u * ray.u + Lanes(q.b) * ray.v * ray.v + Lanes(q.c) * ray.w * ray.w;
  const Lanes qb = ax * ray.u + by * ray.v + cz * ray.w;
  const Lanes qc = (ax + Lanes(q.g[0])) * ray.x + (by + Lanes(q.g[1])) * ray.y + (cz + Lanes(q.g[2])) * ray.z + Lanes(q.e);
  const Lanes root = xsimd::sqrt(qb * qb - qa * qc);
  const Lanes s = -(qb + xsimd::copysign(root, qb));
  const Lanes step1 = s / qa, step2 = qc / s;
  const Lanes t1 = step1 + ray.ahead, t2 = step2 + ray.ahead;
  const Marks in1 = (t1 > near_end) & (t1 < far_end) & inside<wedged>(patch, ray, step1);
  const Marks in2 = (t2 > near_end) & (t2 < far_end) & inside<wedged>(patch, ray, step2);
  return xsimd::min(xsimd::select(in1, t1, far_end), xsimd::select(in2, t2, far_end));
}

/// Nearest distance within (near, far) at which these rays meet a whole quadric surface. A ray that starts on this very quadric
/// meets it again at one place only, which is known exactly: solved in float, its start would be met too.
inline Lanes meet_quadric(const FloatPatch& patch, int surface, const RayLanes& rays, const Lanes& far_end) {
  const auto from_elsewhere = [&](const OwnLanes& ray) {
    return patch.flat ? meet_flat(patch, ray, rays.near_end, far_end) : meet<false>(patch, ray, rays.near_end, far_end);
  };
  const Marks own = rays.own_surface == Lanes(static_cast<float>(surface));
  if (!xsimd::any(own)) return from_elsewhere(own_rays(patch, rays));
  const Lanes again = xsimd::select(own, rays.own_again, Lanes(Region<float>::far));
  const bool all = xsimd::all(own);
  if (all && !xsimd::any(again < far_end)) return far_end;
  const OwnLanes ray = own_rays(patch, rays);
  const Marks back = (again > rays.near_end) & (again < far_end) & inside<false>(patch, ray, again - ray.ahead);
  const Lanes once_more = xsimd::select(back, again, far_end);
  return all ? once_more : xsimd::select(own, once_more, from_elsewhere(ray));
}

/// Numbers from places of a table. (The library's own reads them one by one.)
inline Lanes gather(const float* table, const WholeLanes& place) {
#if defined(__AVX512F__)
  return _mm512_i32gather_ps(place, table, sizeof(float));
#elif defined(__AVX2__)
  return _mm256_i32gather_ps(table, place, sizeof(float));
#else
  return Lanes::gather(table, place);
#endif
}

/// Part of the ray between two planes across one axis.
inline void clip(const Lanes& place, const Lanes& along, float low, float high, Lanes& from, Lanes& to) {
  const Lanes per = Lanes(1) / (along + xsimd::copysign(Lanes(1e-20F), along));
  const Lanes a = (Lanes(low) - place) * per, b = (Lanes(high) - place) * per;
  from = xsimd::max(from, xsimd::min(a, b));
  to = xsimd::min(to, xsimd::max(a, b));
}

/// Part of the ray within the cylinder of the rim, a little more. Steps that begin at the rim see on which side of the sheet they
/// begin; from outside a ray could cross the sheet beyond the rim and again on the mirror within one step.
inline void clip_round(const Region<float>& region, const OwnLanes& ray, Lanes& from, Lanes& to) {
  const Lanes aside = ray.x - Lanes(region.x_middle), off = ray.y - Lanes(region.y_middle);
  const Lanes a = xsimd::max(xsimd::fma(ray.u, ray.u, ray.v * ray.v), Lanes(1e-12F));
  const Lanes b = xsimd::fma(aside, ray.u, off * ray.v);
  const Lanes c = xsimd::fma(aside, aside, off * off) - Lanes(region.r2_to * (1 + 2e-6F));
  const Lanes inside = b * b - a * c, root = xsimd::sqrt(xsimd::max(inside, Lanes(0)));
  from = xsimd::max(from, (-b - root) / a);
  to = xsimd::select(inside < Lanes(0), from, xsimd::min(to, (root - b) / a));
}

/// Of one petal.
inline Lanes meet_petal(const FloatPatch& patch, const RayLanes& rays, const Lanes& far_end) {
  return meet<true>(patch, own_rays(patch, rays), rays.near_end, far_end);
}

/// Of all petals: only those over which a ray passes within the rim and the depth of the dish are asked. `element` becomes which
/// petal, where one is met.
Lanes meet_petals(const FloatPetals& petals, const RayLanes& rays, const Lanes& far_end, Lanes& element);

/// Of a height over a plane: walks through its box in even steps; where the ray changes sides, halves and secants close in on the
/// crossing.
Lanes meet_heights(const FloatHeights& heights, const RayLanes& rays, const Lanes& far_end);

}  // namespace dishwright
