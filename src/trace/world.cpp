// SPDX-License-Identifier: MIT
#include "trace/world.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

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
  out.region = {static_cast<float>(region.r2_from), static_cast<float>(region.r2_to), static_cast<float>(region.x_half),
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
  out.bounds = {static_cast<float>(low.x() - slack),  static_cast<float>(low.y() - slack),
                static_cast<float>(low.z() - slack),  0,
                static_cast<float>(high.x() + slack), static_cast<float>(high.y() + slack),
                static_cast<float>(high.z() + slack), 0};
  return out;
}

void bounds_of_piece(const RTCBoundsFunctionArguments* args) {
  *args->bounds_o = static_cast<const FloatPiece*>(args->geometryUserPtr)->bounds;
}

/// Is the point at distance t on the piece, and the nearest so far? All arithmetic on lanes.
inline bool inside(const Region<float>& region, float x, float y, float z) {
  const float r2 = x * x + y * y;
  const bool round = (r2 >= region.r2_from) & (r2 <= region.r2_to);
  const bool square = (std::fabs(x) <= region.x_half) & (std::fabs(y) <= region.y_half);
  const bool level = (z >= region.z_from) & (z <= region.z_to);
  return round & square & level;
}

template <int N>
void intersect_lanes(const RTCIntersectFunctionNArguments* args) {
  const FloatPiece& piece = *static_cast<const FloatPiece*>(args->geometryUserPtr);
  const Quadric<float> q = piece.quadric;
  RTCRayN* ray = RTCRayHitN_RayN(args->rayhit, N);
  RTCHitN* hit = RTCRayHitN_HitN(args->rayhit, N);
  const float* ox = &RTCRayN_org_x(ray, N, 0);
  const float* oy = &RTCRayN_org_y(ray, N, 0);
  const float* oz = &RTCRayN_org_z(ray, N, 0);
  const float* dx = &RTCRayN_dir_x(ray, N, 0);
  const float* dy = &RTCRayN_dir_y(ray, N, 0);
  const float* dz = &RTCRayN_dir_z(ray, N, 0);
  const float* near_end = &RTCRayN_tnear(ray, N, 0);
  float* far_end = &RTCRayN_tfar(ray, N, 0);
  unsigned* hit_geometry = &RTCHitN_geomID(hit, N, 0);
  unsigned* hit_primitive = &RTCHitN_primID(hit, N, 0);
  const float(&m)[3][3] = piece.turn;
#pragma omp simd
  for (int i = 0; i < N; ++i) {
    // The ray in the piece's own frame.
    const float px = ox[i] - piece.at[0], py = oy[i] - piece.at[1], pz = oz[i] - piece.at[2];
    const float x = m[0][0] * px + m[0][1] * py + m[0][2] * pz;
    const float y = m[1][0] * px + m[1][1] * py + m[1][2] * pz;
    const float z = m[2][0] * px + m[2][1] * py + m[2][2] * pz;
    const float u = m[0][0] * dx[i] + m[0][1] * dy[i] + m[0][2] * dz[i];
    const float v = m[1][0] * dx[i] + m[1][1] * dy[i] + m[1][2] * dz[i];
    const float w = m[2][0] * dx[i] + m[2][1] * dy[i] + m[2][2] * dz[i];
    // A t² + 2 B t + C = 0 by the form that loses no digits; NaN and infinity fail every comparison below.
    const float qa = q.a * u * u + q.b * v * v + q.c * w * w;
    const float qb = q.a * x * u + q.b * y * v + q.c * z * w - q.d * w;
    const float qc = q.a * x * x + q.b * y * y + q.c * z * z - 2 * q.d * z + q.e;
    const float root = std::sqrt(qb * qb - qa * qc);
    const float s = -(qb + std::copysign(root, qb));
    const float t1 = s / qa, t2 = qc / s;
    const bool in1 = (t1 > near_end[i]) & (t1 < far_end[i]) & inside(piece.region, x + t1 * u, y + t1 * v, z + t1 * w);
    const bool in2 = (t2 > near_end[i]) & (t2 < far_end[i]) & inside(piece.region, x + t2 * u, y + t2 * v, z + t2 * w);
    const float far_away = std::numeric_limits<float>::infinity();
    const float t = std::min(in1 ? t1 : far_away, in2 ? t2 : far_away);
    const bool takes = (in1 | in2) & (args->valid[i] != 0);
    far_end[i] = takes ? t : far_end[i];
    hit_geometry[i] = takes ? args->geomID : hit_geometry[i];
    hit_primitive[i] = takes ? 0U : hit_primitive[i];
  }
}

void intersect_piece(const RTCIntersectFunctionNArguments* args) {
  switch (args->N) {
    case 1: return intersect_lanes<1>(args);
    case 4: return intersect_lanes<4>(args);
    case 8: return intersect_lanes<8>(args);
    default: return intersect_lanes<16>(args);
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
  // One thread builds: these hierarchies are tiny, and Embree then starts no pool of its own.
  scenes_->device = rtcNewDevice("threads=1,user_threads=0,start_threads=0");
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
  for (int first = 0; first < rays.n; first += width) {
    alignas(64) RTCRayHit16 packet;
    alignas(64) int valid[width];
    const int live = std::min(width, rays.n - first);
    for (int i = 0; i < width; ++i) {
      // Dead lanes repeat a live ray with an empty interval: packets wider than the machine's vectors ignore `valid`.
      const std::size_t k = static_cast<std::size_t>(first + (i < live ? i : 0));
      valid[i] = i < live ? -1 : 0;
      packet.ray.org_x[i] = static_cast<float>(rays.ox[k]);
      packet.ray.org_y[i] = static_cast<float>(rays.oy[k]);
      packet.ray.org_z[i] = static_cast<float>(rays.oz[k]);
      packet.ray.dir_x[i] = static_cast<float>(rays.dx[k]);
      packet.ray.dir_y[i] = static_cast<float>(rays.dy[k]);
      packet.ray.dir_z[i] = static_cast<float>(rays.dz[k]);
      packet.ray.tnear[i] = i < live ? rays.start_gap[k] : limit;
      packet.ray.tfar[i] = i < live ? limit : -1.0F;
      packet.ray.time[i] = 0;
      packet.ray.mask[i] = ~0U;
      packet.ray.id[i] = 0;
      packet.ray.flags[i] = 0;
      packet.hit.geomID[i] = RTC_INVALID_GEOMETRY_ID;
      packet.hit.primID[i] = RTC_INVALID_GEOMETRY_ID;
      packet.hit.instID[0][i] = RTC_INVALID_GEOMETRY_ID;
    }
    intersect_sixteen(valid, scene, &packet);
    for (int i = 0; i < live; ++i) {
      const std::size_t k = static_cast<std::size_t>(first + i);
      rays.piece[k] = static_cast<int>(packet.hit.geomID[i]);  // none is all ones: −1
      rays.distance[k] = packet.ray.tfar[i];
    }
  }
}

}  // namespace dishwright
