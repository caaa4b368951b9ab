// SPDX-License-Identifier: MIT
#include "trace/world.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <xsimd/xsimd.hpp>

#include "trace/embree.h"

namespace dishwright {

namespace {

/// A piece in float, as the callback wants it.
struct FloatPiece {
  Quadric<float> quadric;
  Region<float> region;
  float turn[3][3];  // own = turn · (frame − at)
  float at[3];
  RTCBounds bounds;
};

FloatPiece to_float(const Piece& piece) {
  FloatPiece out{};
  const Quadric<double>& q = piece.quadric;
  out.quadric = {static_cast<float>(q.a), static_cast<float>(q.b), static_cast<float>(q.c), static_cast<float>(q.d),
                 static_cast<float>(q.e)};
  const Region<double>& region = piece.region;
  out.region = {static_cast<float>(region.r2_from), static_cast<float>(region.r2_to),  static_cast<float>(region.x_half),
                static_cast<float>(region.y_half),  static_cast<float>(region.z_from), static_cast<float>(region.z_to)};
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) out.turn[i][j] = static_cast<float>(piece.pose.turn(j, i));
    out.at[i] = static_cast<float>(piece.pose.at[i]);
  }
  // Box in the frame around the turned own box, a little larger for rounding.
  Vector3 low = Vector3::Constant(std::numeric_limits<double>::infinity());
  Vector3 high = -low;
  for (int corner = 0; corner < 8; ++corner) {
    const Vector3 own((corner & 1) != 0 ? piece.box_high.x() : piece.box_low.x(),
                      (corner & 2) != 0 ? piece.box_high.y() : piece.box_low.y(),
                      (corner & 4) != 0 ? piece.box_high.z() : piece.box_low.z());
    const Vector3 point = piece.pose.turn * own + piece.pose.at;
    low = low.cwiseMin(point);
    high = high.cwiseMax(point);
  }
  const double slack = 1e-6 * (piece.reach() + piece.pose.at.cwiseAbs().maxCoeff()) + 1e-9;
  out.bounds = {
      static_cast<float>(low.x() - slack),  static_cast<float>(low.y() - slack),  static_cast<float>(low.z() - slack),  0,
      static_cast<float>(high.x() + slack), static_cast<float>(high.y() + slack), static_cast<float>(high.z() + slack), 0};
  return out;
}

void bounds_of_piece(const RTCBoundsFunctionArguments* args) {
  *args->bounds_o = static_cast<const FloatPiece*>(args->geometryUserPtr)->bounds;
}

using Lanes = xsimd::batch<float>;
using Marks = xsimd::batch_bool<float>;
constexpr int lane_count = static_cast<int>(Lanes::size);

struct LaneRays {
  Lanes x, y, z, u, v, w;  // place nearest to the piece's own origin, and direction, in its own frame
  Lanes ahead;             // distance of that place from the start
};

/// Is the point at distance t on the piece?
inline Marks inside(const Region<float>& region, const LaneRays& ray, const Lanes& t) {
  const Lanes x = xsimd::fma(t, ray.u, ray.x), y = xsimd::fma(t, ray.v, ray.y), z = xsimd::fma(t, ray.w, ray.z);
  const Lanes r2 = xsimd::fma(x, x, y * y);
  return (r2 >= Lanes(region.r2_from)) & (r2 <= Lanes(region.r2_to)) & (xsimd::abs(x) <= Lanes(region.x_half)) &
         (xsimd::abs(y) <= Lanes(region.y_half)) & (z >= Lanes(region.z_from)) & (z <= Lanes(region.z_to));
}

inline LaneRays own_rays(const FloatPiece& piece, const float* const* ray, int i) {
  const auto load = [&](int row) { return Lanes::load_unaligned(ray[row] + i); };
  const Lanes px = load(0) - Lanes(piece.at[0]), py = load(1) - Lanes(piece.at[1]), pz = load(2) - Lanes(piece.at[2]);
  const Lanes dx = load(3), dy = load(4), dz = load(5);
  const auto row = [&](int k, const Lanes& a, const Lanes& b, const Lanes& c) {
    const auto& m = piece.turn[k];
    return xsimd::fma(Lanes(m[0]), a, xsimd::fma(Lanes(m[1]), b, Lanes(m[2]) * c));
  };
  const Lanes x = row(0, px, py, pz), y = row(1, px, py, pz), z = row(2, px, py, pz);
  const Lanes u = row(0, dx, dy, dz), v = row(1, dx, dy, dz), w = row(2, dx, dy, dz);
  // From a place near the piece a float tells a small ball from its surroundings; from far away its radius drowns in the distance.
  const Lanes ahead = -xsimd::fma(x, u, xsimd::fma(y, v, z * w));
  return {xsimd::fma(ahead, u, x), xsimd::fma(ahead, v, y), xsimd::fma(ahead, w, z), u, v, w, ahead};
}

/// Nearest distance within (near, far) at which these rays meet the piece; `far` where they do not.
inline Lanes meet(const FloatPiece& piece, const LaneRays& ray, const Lanes& near_end, const Lanes& far_end) {
  const Quadric<float>& q = piece.quadric;
  // A t² + 2 B t + C = 0 by the form that loses no digits; not-a-number and infinity fail every comparison below.
  const Lanes ax = Lanes(q.a) * ray.x, by = Lanes(q.b) * ray.y, cz = Lanes(q.c) * ray.z - Lanes(q.d);
  const Lanes qa = Lanes(q.a) * ray.u * ray.u + Lanes(q.b) * ray.v * ray.v + Lanes(q.c) * ray.w * ray.w;
  const Lanes qb = ax * ray.u + by * ray.v + cz * ray.w;
  const Lanes qc = ax * ray.x + by * ray.y + (cz - Lanes(q.d)) * ray.z + Lanes(q.e);
  const Lanes root = xsimd::sqrt(qb * qb - qa * qc);
  const Lanes s = -(qb + xsimd::copysign(root, qb));
  const Lanes step1 = s / qa, step2 = qc / s;
  const Lanes t1 = step1 + ray.ahead, t2 = step2 + ray.ahead;
  const Marks in1 = (t1 > near_end) & (t1 < far_end) & inside(piece.region, ray, step1);
  const Marks in2 = (t2 > near_end) & (t2 < far_end) & inside(piece.region, ray, step2);
  return xsimd::min(xsimd::select(in1, t1, far_end), xsimd::select(in2, t2, far_end));
}

/// The callback for packets that fill whole vectors.
template <int N>
void intersect_lanes(const RTCIntersectFunctionNArguments* args) {
  const FloatPiece& piece = *static_cast<const FloatPiece*>(args->geometryUserPtr);
  RTCRayN* ray = RTCRayHitN_RayN(args->rayhit, N);
  RTCHitN* hit = RTCRayHitN_HitN(args->rayhit, N);
  const float* rows[6] = {&RTCRayN_org_x(ray, N, 0), &RTCRayN_org_y(ray, N, 0), &RTCRayN_org_z(ray, N, 0),
                          &RTCRayN_dir_x(ray, N, 0), &RTCRayN_dir_y(ray, N, 0), &RTCRayN_dir_z(ray, N, 0)};
  float* far_row = &RTCRayN_tfar(ray, N, 0);
  for (int i = 0; i < N; i += lane_count) {
    const Lanes near_end = Lanes::load_unaligned(&RTCRayN_tnear(ray, N, 0) + i), far_end = Lanes::load_unaligned(far_row + i);
    const Lanes t = meet(piece, own_rays(piece, rows, i), near_end, far_end);
    alignas(64) float found[lane_count];
    t.store_aligned(found);
    for (int k = 0; k < lane_count; ++k) {
      if (!(found[k] < far_row[i + k]) || args->valid[i + k] == 0) continue;
      far_row[i + k] = found[k];
      RTCHitN_geomID(hit, N, i + k) = args->geomID;
      RTCHitN_primID(hit, N, i + k) = 0;
    }
  }
}

/// Packets narrower than a vector: one ray at a time in the first lane.
void intersect_few(const RTCIntersectFunctionNArguments* args) {
  const FloatPiece& piece = *static_cast<const FloatPiece*>(args->geometryUserPtr);
  RTCRayN* ray = RTCRayHitN_RayN(args->rayhit, args->N);
  RTCHitN* hit = RTCRayHitN_HitN(args->rayhit, args->N);
  for (unsigned i = 0; i < args->N; ++i) {
    if (args->valid[i] == 0) continue;
    float numbers[6][lane_count] = {};
    const float* rows[6];
    for (int row = 0; row < 6; ++row) rows[row] = numbers[row];
    numbers[0][0] = RTCRayN_org_x(ray, args->N, i), numbers[1][0] = RTCRayN_org_y(ray, args->N, i);
    numbers[2][0] = RTCRayN_org_z(ray, args->N, i), numbers[3][0] = RTCRayN_dir_x(ray, args->N, i);
    numbers[4][0] = RTCRayN_dir_y(ray, args->N, i), numbers[5][0] = RTCRayN_dir_z(ray, args->N, i);
    const Lanes far_end(RTCRayN_tfar(ray, args->N, i));
    const Lanes t = meet(piece, own_rays(piece, rows, 0), Lanes(RTCRayN_tnear(ray, args->N, i)), far_end);
    if (!(t.get(0) < far_end.get(0))) continue;
    RTCRayN_tfar(ray, args->N, i) = t.get(0);
    RTCHitN_geomID(hit, args->N, i) = args->geomID;
    RTCHitN_primID(hit, args->N, i) = 0;
  }
}

void intersect_piece(const RTCIntersectFunctionNArguments* args) {
  if (args->N == 16) {
    intersect_lanes<16>(args);
  } else if (args->N == 8 && lane_count <= 8) {
    intersect_lanes<8>(args);
  } else {
    intersect_few(args);
  }
}

}  // namespace

struct World::Scenes {
  RTCDevice device = nullptr;
  std::vector<FloatPiece> pieces;
  RTCScene scene[4] = {};
  bool empty[4] = {true, true, true, true};
};

World::World(const PieceList& list) : scenes_(std::make_unique<Scenes>()) {
  // Its `threads` setting would cap the whole process's task scheduler, so it stays at its default.
  scenes_->device = rtcNewDevice(nullptr);
  if (scenes_->device == nullptr) throw std::runtime_error("the ray tracing library could not start");
  for (const Piece& piece : list.pieces) {
    scenes_->pieces.push_back(to_float(piece));
    reach_ = std::max(reach_, piece.middle().norm() + piece.reach());
    start_gap_.push_back(static_cast<float>(1e-5 * piece.reach() + 3e-7 * piece.pose.at.cwiseAbs().maxCoeff()));
  }
  for (int among = 0; among < 4; ++among) {
    RTCScene scene = rtcNewScene(scenes_->device);
    rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
    for (std::size_t k = 0; k < list.pieces.size(); ++k) {
      const bool mirror = list.pieces[k].kind == PieceKind::mirror;
      const bool shades = !mirror && list.pieces[k].shades;
      const bool wanted[4] = {true, mirror, shades, mirror || shades};
      if (!wanted[among]) continue;
      scenes_->empty[among] = false;
      RTCGeometry geometry = rtcNewGeometry(scenes_->device, RTC_GEOMETRY_TYPE_USER);
      rtcSetGeometryUserPrimitiveCount(geometry, 1);
      rtcSetGeometryUserData(geometry, &scenes_->pieces[k]);
      rtcSetGeometryBoundsFunction(geometry, bounds_of_piece, nullptr);
      rtcSetGeometryIntersectFunction(geometry, intersect_piece);
      rtcCommitGeometry(geometry);
      rtcAttachGeometryByID(scene, geometry, static_cast<unsigned>(k));
      rtcReleaseGeometry(geometry);
    }
    rtcCommitScene(scene);
    scenes_->scene[among] = scene;
  }
}

World::~World() {
  for (RTCScene scene : scenes_->scene) rtcReleaseScene(scene);
  rtcReleaseDevice(scenes_->device);
}

bool World::empty(Among among) const { return scenes_->empty[static_cast<int>(among)]; }
float World::start_gap(int piece) const { return start_gap_[static_cast<std::size_t>(piece)]; }

void World::nearest(Among among, RayBlock& rays, float limit) const {
  const RTCScene scene = scenes_->scene[static_cast<int>(among)];
  constexpr int width = 16;
  // Fill the last packet with copies of a live ray and an empty interval: packets wider than the machine's vectors ignore `valid`.
  const int padded = (rays.n + width - 1) / width * width;
  for (std::size_t i = static_cast<std::size_t>(rays.n); i < static_cast<std::size_t>(padded); ++i) {
    const std::size_t live = static_cast<std::size_t>(rays.n - 1);
    rays.ox[i] = rays.ox[live], rays.oy[i] = rays.oy[live], rays.oz[i] = rays.oz[live];
    rays.dx[i] = rays.dx[live], rays.dy[i] = rays.dy[live], rays.dz[i] = rays.dz[live];
    rays.start_gap[i] = std::numeric_limits<float>::infinity();
  }
  alignas(64) static constexpr std::array<int, width> valid = {-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1};
  alignas(64) RTCRayHit16 packet;
  for (int i = 0; i < width; ++i) {
    packet.ray.time[i] = 0;
    packet.ray.mask[i] = ~0U;
    packet.ray.id[i] = 0;
    packet.ray.flags[i] = 0;
    packet.hit.instID[0][i] = RTC_INVALID_GEOMETRY_ID;
  }
  for (int first = 0; first < rays.n; first += width) {
#pragma omp simd
    for (int i = 0; i < width; ++i) {
      packet.ray.org_x[i] = static_cast<float>(rays.ox[first + i]);
      packet.ray.org_y[i] = static_cast<float>(rays.oy[first + i]);
      packet.ray.org_z[i] = static_cast<float>(rays.oz[first + i]);
      packet.ray.dir_x[i] = static_cast<float>(rays.dx[first + i]);
      packet.ray.dir_y[i] = static_cast<float>(rays.dy[first + i]);
      packet.ray.dir_z[i] = static_cast<float>(rays.dz[first + i]);
      packet.ray.tnear[i] = rays.start_gap[first + i];
      packet.ray.tfar[i] = limit;
      packet.hit.geomID[i] = RTC_INVALID_GEOMETRY_ID;
      packet.hit.primID[i] = RTC_INVALID_GEOMETRY_ID;
    }
    const int live = rays.n - first;
    for (int i = live; i < width; ++i) packet.ray.tfar[i] = -1;
    intersect_sixteen(valid.data(), scene, &packet);
#pragma omp simd
    for (int i = 0; i < width; ++i) {
      rays.piece[first + i] = static_cast<int>(packet.hit.geomID[i]);  // none is all ones: −1
      rays.distance[first + i] = packet.ray.tfar[i];
    }
  }
}

}  // namespace dishwright
