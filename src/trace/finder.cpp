// SPDX-License-Identifier: MIT
#include "trace/finder.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <xsimd/xsimd.hpp>

namespace dishwright {

namespace {

using Lanes = xsimd::batch<float>;
using Marks = xsimd::batch_bool<float>;
constexpr int lane_count = static_cast<int>(Lanes::size);

struct LaneRays {
  Lanes x, y, z, u, v, w;  // place nearest to the surface's own origin, and direction, in its own frame
  Lanes ahead;             // distance of that place from the start
};

/// Rays in the own frame of anything with `turn` and `at`.
template <class Placed>
inline LaneRays own_rays(const Placed& surface, const float* const* ray, int i) {
  const auto load = [&](int row) { return Lanes::load_unaligned(ray[row] + i); };
  const Lanes px = load(0) - Lanes(surface.at[0]), py = load(1) - Lanes(surface.at[1]), pz = load(2) - Lanes(surface.at[2]);
  const Lanes dx = load(3), dy = load(4), dz = load(5);
  const auto row = [&](int k, const Lanes& a, const Lanes& b, const Lanes& c) {
    const auto& m = surface.turn[k];
    return xsimd::fma(Lanes(m[0]), a, xsimd::fma(Lanes(m[1]), b, Lanes(m[2]) * c));
  };
  const Lanes x = row(0, px, py, pz), y = row(1, px, py, pz), z = row(2, px, py, pz);
  const Lanes u = row(0, dx, dy, dz), v = row(1, dx, dy, dz), w = row(2, dx, dy, dz);
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
inline Marks inside(const FloatPatch& patch, const LaneRays& ray, const Lanes& t) {
  return inside<wedged>(patch.region, patch.wedge_slack, xsimd::fma(t, ray.u, ray.x), xsimd::fma(t, ray.v, ray.y),
                        xsimd::fma(t, ray.w, ray.z));
}

/// Nearest distance within (near, far) at which these rays meet the patch; `far` where they do not.
template <bool wedged>
inline Lanes meet(const FloatPatch& patch, const LaneRays& ray, const Lanes& near_end, const Lanes& far_end) {
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

/// Height of the grid, straight between its points.
inline Lanes grid_height(const FloatHeights& heights, const Lanes& x, const Lanes& y) {
  using Whole = xsimd::batch<std::int32_t>;
  const Lanes per(1 / heights.cell);
  const Lanes column =
      xsimd::min(xsimd::max((x - Lanes(heights.x_from)) * per, Lanes(0)), Lanes(static_cast<float>(heights.columns) - 0.001F));
  const Lanes row =
      xsimd::min(xsimd::max((y - Lanes(heights.y_from)) * per, Lanes(0)), Lanes(static_cast<float>(heights.rows) - 0.001F));
  const Whole i = xsimd::to_int(column), j = xsimd::to_int(row);
  const Lanes a = column - xsimd::to_float(i), b = row - xsimd::to_float(j);
  const Whole place = j * Whole(heights.columns + 1) + i;
  const float* from = heights.height.data();
  const Lanes h00 = Lanes::gather(from, place), h10 = Lanes::gather(from + 1, place);
  const Lanes h01 = Lanes::gather(from + heights.columns + 1, place), h11 = Lanes::gather(from + heights.columns + 2, place);
  const Lanes low = xsimd::fma(a, h10 - h00, h00), high = xsimd::fma(a, h11 - h01, h01);
  return xsimd::fma(b, high - low, low);
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
inline void clip_round(const Region<float>& region, const LaneRays& ray, Lanes& from, Lanes& to) {
  const Lanes aside = ray.x - Lanes(region.x_middle), off = ray.y - Lanes(region.y_middle);
  const Lanes a = xsimd::max(xsimd::fma(ray.u, ray.u, ray.v * ray.v), Lanes(1e-12F));
  const Lanes b = xsimd::fma(aside, ray.u, off * ray.v);
  const Lanes c = xsimd::fma(aside, aside, off * off) - Lanes(region.r2_to * (1 + 2e-6F));
  const Lanes inside = b * b - a * c, root = xsimd::sqrt(xsimd::max(inside, Lanes(0)));
  from = xsimd::max(from, (-b - root) / a);
  to = xsimd::select(inside < Lanes(0), from, xsimd::min(to, (root - b) / a));
}

/// Walks through the box of a height surface in even steps; where the ray changes sides, halves and secants close in on the
/// crossing.
inline Lanes meet(const FloatHeights& heights, const LaneRays& ray, const Lanes& near_end, const Lanes& far_end) {
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

/// The rays of a packet as rows of numbers, and what is known of where they start.
struct PacketRows {
  const float* ray[6];  // start x, y, z, direction x, y, z
  const float *near_end, *far_end;
  const int* own_surface;
  const float* own_again;
  int surface;
};

/// A ray that starts on this very quadric meets it again at one place only, which is known exactly: solved in float, its start
/// would be met too.
struct PatchFinder {
  static Lanes find(const void* data, unsigned element, const PacketRows& rows, int i, const Lanes& near_end,
                    const Lanes& far_end) {
    using Whole = xsimd::batch<std::int32_t>;
    const FloatPatch& patch = static_cast<const FloatPatch*>(data)[element];
    const Marks own = xsimd::to_float(Whole::load_unaligned(rows.own_surface + i)) == Lanes(static_cast<float>(rows.surface));
    if (!xsimd::any(own)) return meet<false>(patch, own_rays(patch, rows.ray, i), near_end, far_end);
    const Lanes again = xsimd::select(own, Lanes::load_unaligned(rows.own_again + i), Lanes(Region<float>::far));
    const bool all = xsimd::all(own);
    if (all && !xsimd::any(again < far_end)) return far_end;
    const LaneRays ray = own_rays(patch, rows.ray, i);
    const Marks back = (again > near_end) & (again < far_end) & inside<false>(patch, ray, again - ray.ahead);
    const Lanes once_more = xsimd::select(back, again, far_end);
    return all ? once_more : xsimd::select(own, once_more, meet<false>(patch, ray, near_end, far_end));
  }
};

struct PetalFinder {
  static Lanes find(const void* data, unsigned element, const PacketRows& rows, int i, const Lanes& near_end,
                    const Lanes& far_end) {
    const FloatPatch& patch = static_cast<const FloatPatch*>(data)[element];
    return meet<true>(patch, own_rays(patch, rows.ray, i), near_end, far_end);
  }
};

struct ReliefFinder {
  static Lanes find(const void* data, unsigned /*element*/, const PacketRows& rows, int i, const Lanes& near_end,
                    const Lanes& far_end) {
    const FloatHeights& heights = *static_cast<const FloatHeights*>(data);
    return meet(heights, own_rays(heights, rows.ray, i), near_end, far_end);
  }
};

/// Whole vectors of a packet of `count` rays; writes down what was met.
template <class Finder>
void intersect_rows(const RTCIntersectFunctionNArguments* args, const PacketRows& rows, int count) {
  RTCRayN* ray = RTCRayHitN_RayN(args->rayhit, args->N);
  RTCHitN* hit = RTCRayHitN_HitN(args->rayhit, args->N);
  for (int i = 0; i < count; i += lane_count) {
    const Lanes near_end = Lanes::load_unaligned(rows.near_end + i), far_end = Lanes::load_unaligned(rows.far_end + i);
    const Lanes t = Finder::find(args->geometryUserPtr, args->primID, rows, i, near_end, far_end);
    alignas(64) float found[lane_count], before[lane_count];
    t.store_aligned(found), far_end.store_aligned(before);
    for (unsigned k = 0; k < lane_count; ++k) {
      const unsigned lane = static_cast<unsigned>(i) + k;
      if (!(found[k] < before[k]) || lane >= args->N || args->valid[lane] == 0) continue;
      RTCRayN_tfar(ray, args->N, lane) = found[k];
      RTCHitN_geomID(hit, args->N, lane) = args->geomID;
      RTCHitN_primID(hit, args->N, lane) = args->primID;
    }
  }
}

/// The callback for whole packets: their rays stand in order.
template <class Finder>
void intersect_packet(const RTCIntersectFunctionNArguments* args) {
  constexpr unsigned all = 16;
  RTCRayN* ray = RTCRayHitN_RayN(args->rayhit, all);
  const auto& context = *static_cast<const PacketContext*>(args->context);
  const PacketRows rows{{&RTCRayN_org_x(ray, all, 0), &RTCRayN_org_y(ray, all, 0), &RTCRayN_org_z(ray, all, 0),
                         &RTCRayN_dir_x(ray, all, 0), &RTCRayN_dir_y(ray, all, 0), &RTCRayN_dir_z(ray, all, 0)},
                        &RTCRayN_tnear(ray, all, 0),
                        &RTCRayN_tfar(ray, all, 0),
                        context.own_surface,
                        context.own_again,
                        static_cast<int>(args->geomID)};
  intersect_rows<Finder>(args, rows, all);
}

/// Fewer rays: copied to rows of their own, found by their ids.
template <class Finder>
void intersect_few(const RTCIntersectFunctionNArguments* args) {
  constexpr unsigned most = std::max(8, lane_count);
  RTCRayN* ray = RTCRayHitN_RayN(args->rayhit, args->N);
  const auto& context = *static_cast<const PacketContext*>(args->context);
  float numbers[9][most] = {};
  int own_surface[most] = {};
  const unsigned count = std::min(args->N, most);
  for (unsigned i = 0; i < count; ++i) {
    numbers[0][i] = RTCRayN_org_x(ray, args->N, i), numbers[1][i] = RTCRayN_org_y(ray, args->N, i);
    numbers[2][i] = RTCRayN_org_z(ray, args->N, i), numbers[3][i] = RTCRayN_dir_x(ray, args->N, i);
    numbers[4][i] = RTCRayN_dir_y(ray, args->N, i), numbers[5][i] = RTCRayN_dir_z(ray, args->N, i);
    numbers[6][i] = RTCRayN_tnear(ray, args->N, i), numbers[7][i] = RTCRayN_tfar(ray, args->N, i);
    const unsigned id = RTCRayN_id(ray, args->N, i);
    numbers[8][i] = context.own_again[id];
    own_surface[i] = context.own_surface[id];
  }
  const PacketRows rows{{numbers[0], numbers[1], numbers[2], numbers[3], numbers[4], numbers[5]},
                        numbers[6],
                        numbers[7],
                        own_surface,
                        numbers[8],
                        static_cast<int>(args->geomID)};
  intersect_rows<Finder>(args, rows, static_cast<int>(count));
}

template <class Finder>
void intersect(const RTCIntersectFunctionNArguments* args) {
  args->N == 16 ? intersect_packet<Finder>(args) : intersect_few<Finder>(args);
}

void bounds_of_patch(const RTCBoundsFunctionArguments* args) {
  *args->bounds_o = static_cast<const FloatPatch*>(args->geometryUserPtr)[args->primID].bounds;
}

void bounds_of_heights(const RTCBoundsFunctionArguments* args) {
  *args->bounds_o = static_cast<const FloatHeights*>(args->geometryUserPtr)->bounds;
}

RTCGeometry user_geometry(RTCDevice device, const void* data, std::size_t count, RTCBoundsFunction bounds,
                          RTCIntersectFunctionN find) {
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_USER);
  rtcSetGeometryUserPrimitiveCount(geometry, static_cast<unsigned>(count));
  rtcSetGeometryUserData(geometry,
                         const_cast<void*>(data));  // NOLINT(cppcoreguidelines-pro-type-const-cast): the library's signature
  rtcSetGeometryBoundsFunction(geometry, bounds, nullptr);
  rtcSetGeometryIntersectFunction(geometry, find);
  return geometry;
}

}  // namespace

RTCGeometry patch_geometry(RTCDevice device, const std::vector<FloatPatch>& patches, bool petals) {
  return user_geometry(device, patches.data(), patches.size(), bounds_of_patch,
                       petals ? intersect<PetalFinder> : intersect<PatchFinder>);
}

RTCGeometry height_geometry(RTCDevice device, const FloatHeights& heights) {
  return user_geometry(device, &heights, 1, bounds_of_heights, intersect<ReliefFinder>);
}

}  // namespace dishwright
