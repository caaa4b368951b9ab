// SPDX-License-Identifier: MIT
// The search by the ray tracing library: a tree of boxes over any number of surfaces, tiles and triangles.
#include <algorithm>
#include <array>
#include <limits>
#include <list>
#include <stdexcept>
#include <utility>

#include "trace/surface_search.h"
#include "trace/tree_geometry.h"

namespace dishwright {

namespace {

class TreeSearch : public SurfaceSearch {
 public:
  TreeSearch(const SurfaceList& list, const Vector3& origin, std::unique_ptr<SurfaceSearch> before);
  ~TreeSearch() override;
  TreeSearch(const TreeSearch&) = delete;
  TreeSearch& operator=(const TreeSearch&) = delete;
  void nearest(RayMask among, RayBlock& rays, float limit) const override;
  float grid_error(int surface) const override {
    return before_ != nullptr ? before_->grid_error(surface) : grid_error_[static_cast<std::size_t>(surface)];
  }

 private:
  void add_geometry(const Surface& surface);
  RTCGeometry shared(RTCGeometry geometry);
  RTCDevice device_ = nullptr;
  Vector3 origin_;
  std::list<std::vector<FloatPatch>> patches_;
  std::list<FloatHeights> height_surfaces_;
  std::vector<RTCGeometry> geometries_;  // by surface
  std::vector<unsigned> per_element_;    // primitives of one tile, by surface
  std::vector<float> grid_error_;        // by surface
  RTCScene scene_[mask_count] = {};
  bool empty_[mask_count] = {};
  std::unique_ptr<SurfaceSearch> before_;  // looks first, for what it can; else null
  bool halves_ = false;                    // is any tile more than one primitive?
};

TreeSearch::TreeSearch(const SurfaceList& list, const Vector3& origin, std::unique_ptr<SurfaceSearch> before)
    : origin_(origin), before_(std::move(before)) {
  // Its `threads` setting would cap the whole process's task scheduler, so it stays at its default.
  device_ = rtcNewDevice(nullptr);
  if (device_ == nullptr) throw std::runtime_error("the ray tracing library could not start");
  for (const Surface& surface : list.surfaces) {
    if (before_ == nullptr || !direct_can(surface)) {
      add_geometry(surface);
    } else {
      geometries_.push_back(nullptr), per_element_.push_back(1), grid_error_.push_back(0);
    }
  }
  for (int among = 0; among < mask_count; ++among) {
    RTCScene scene = rtcNewScene(device_);
    rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
    for (std::size_t k = 0; k < list.surfaces.size(); ++k) {
      if (geometries_[k] != nullptr && belongs(list.surfaces[k], static_cast<RayMask>(among)))
        rtcAttachGeometryByID(scene, geometries_[k], static_cast<unsigned>(k));
    }
    rtcCommitScene(scene);
    scene_[among] = scene;
    empty_[among] = std::none_of(list.surfaces.begin(), list.surfaces.end(), [&](const Surface& surface) {
      return !(before_ != nullptr && direct_can(surface)) && belongs(surface, static_cast<RayMask>(among));
    });
  }
}

void TreeSearch::add_geometry(const Surface& surface) {
  unsigned per_element = 1;
  float grid_error = 0;
  RTCGeometry geometry = nullptr;
  switch (surface.kind) {
    case SurfaceKind::quadric:
    case SurfaceKind::petals:
      patches_.push_back(float_patches(surface, origin_));
      geometry = patch_geometry(device_, patches_.back(), surface.kind == SurfaceKind::petals);
      break;
    case SurfaceKind::heights:
      height_surfaces_.push_back(float_heights(surface, origin_));
      geometry = height_geometry(device_, height_surfaces_.back());
      grid_error = height_surfaces_.back().error;
      break;
    case SurfaceKind::tiles: geometry = tile_geometry(device_, surface, origin_, per_element); break;
    case SurfaceKind::triangles: geometry = triangle_geometry(device_, surface, origin_); break;
  }
  rtcCommitGeometry(geometry);
  // Thousands of triangles or tiles stand in a scene of their own, which the others share: one tree in memory instead of three.
  if (surface.kind == SurfaceKind::tiles || surface.kind == SurfaceKind::triangles) geometry = shared(geometry);
  geometries_.push_back(geometry);
  per_element_.push_back(per_element);
  halves_ = halves_ || per_element > 1;
  grid_error_.push_back(grid_error);
}

RTCGeometry TreeSearch::shared(RTCGeometry geometry) {
  RTCScene own = rtcNewScene(device_);
  rtcSetSceneFlags(own, RTC_SCENE_FLAG_ROBUST);
  rtcAttachGeometryByID(own, geometry, 0);
  rtcReleaseGeometry(geometry);
  rtcCommitScene(own);
  RTCGeometry instance = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_INSTANCE);
  rtcSetGeometryInstancedScene(instance, own);
  rtcReleaseScene(own);
  constexpr float as_it_stands[12] = {1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0};
  rtcSetGeometryTransform(instance, 0, RTC_FORMAT_FLOAT3X4_COLUMN_MAJOR, as_it_stands);
  rtcCommitGeometry(instance);
  return instance;
}

TreeSearch::~TreeSearch() {
  for (RTCScene scene : scene_) rtcReleaseScene(scene);
  for (RTCGeometry geometry : geometries_) {
    if (geometry != nullptr) rtcReleaseGeometry(geometry);
  }
  rtcReleaseDevice(device_);
}

void TreeSearch::nearest(RayMask among, RayBlock& rays, float limit) const {
  if (before_ != nullptr) before_->nearest(among, rays, limit);
  const RTCScene scene = scene_[static_cast<int>(among)];
  if (before_ != nullptr && empty_[static_cast<int>(among)]) return;
  constexpr int width = 16;
  // Dead lanes: copies of a live ray in an empty interval, since packets wider than the machine's vectors ignore `valid`.
  const int padded = (rays.n + width - 1) / width * width;
  for (std::size_t i = static_cast<std::size_t>(rays.n); i < static_cast<std::size_t>(padded); ++i) {
    const std::size_t live = static_cast<std::size_t>(rays.n - 1);
    rays.ox[i] = rays.ox[live], rays.oy[i] = rays.oy[live], rays.oz[i] = rays.oz[live];
    rays.dx[i] = rays.dx[live], rays.dy[i] = rays.dy[live], rays.dz[i] = rays.dz[live];
    rays.start_gap[i] = std::numeric_limits<float>::infinity();
    rays.own_surface[i] = rays.own_surface[live], rays.own_again[i] = rays.own_again[live];
  }
  const double x = origin_.x(), y = origin_.y(), z = origin_.z();
  PacketContext context;
  alignas(64) static constexpr std::array<int, width> valid = {-1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1, -1};
  alignas(64) RTCRayHit16 packet;
  for (int i = 0; i < width; ++i) {
    packet.ray.time[i] = 0;
    packet.ray.mask[i] = ~0U;
    packet.ray.id[i] = static_cast<unsigned>(i);
    packet.ray.flags[i] = 0;
  }
  for (int first = 0; first < rays.n; first += width) {
#pragma omp simd
    for (int i = 0; i < width; ++i) {
      packet.ray.org_x[i] = static_cast<float>(rays.ox[first + i] - x);
      packet.ray.org_y[i] = static_cast<float>(rays.oy[first + i] - y);
      packet.ray.org_z[i] = static_cast<float>(rays.oz[first + i] - z);
      packet.ray.dir_x[i] = static_cast<float>(rays.dx[first + i]);
      packet.ray.dir_y[i] = static_cast<float>(rays.dy[first + i]);
      packet.ray.dir_z[i] = static_cast<float>(rays.dz[first + i]);
      packet.ray.tnear[i] = rays.start_gap[first + i];
      packet.ray.tfar[i] = before_ != nullptr ? rays.distance[first + i] : limit;
      packet.hit.geomID[i] = RTC_INVALID_GEOMETRY_ID;
      packet.hit.primID[i] = RTC_INVALID_GEOMETRY_ID;
      packet.hit.instID[0][i] = RTC_INVALID_GEOMETRY_ID;
    }
    const int live = rays.n - first;
    for (int i = live; i < width; ++i) packet.ray.tfar[i] = -1;
    context.own_surface = rays.own_surface.data() + first, context.own_again = rays.own_again.data() + first;
    intersect_sixteen(valid.data(), scene, context, &packet);
#pragma omp simd
    for (int i = 0; i < width; ++i) {
      const unsigned instance = packet.hit.instID[0][i];
      // None is all ones: −1. Then what was found before stands.
      const int hit = static_cast<int>(instance != RTC_INVALID_GEOMETRY_ID ? instance : packet.hit.geomID[i]);
      const bool keeps = before_ != nullptr && hit < 0;
      rays.surface[first + i] = keeps ? rays.surface[first + i] : hit;
      rays.element[first + i] = keeps ? rays.element[first + i] : packet.hit.primID[i];
      rays.distance[first + i] = packet.ray.tfar[i];
    }
  }
  if (halves_) {  // two primitives make one hexagon
    for (int i = 0; i < rays.n; ++i) {
      if (rays.surface[i] >= 0) rays.element[i] /= per_element_[static_cast<std::size_t>(rays.surface[i])];
    }
  }
}

}  // namespace

std::unique_ptr<SurfaceSearch> make_tree_search(const SurfaceList& list, const Vector3& origin,
                                                std::unique_ptr<SurfaceSearch> before) {
  return std::make_unique<TreeSearch>(list, origin, std::move(before));
}

bool has_tree_search() { return true; }

}  // namespace dishwright
