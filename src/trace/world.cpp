// SPDX-License-Identifier: MIT
#include "trace/world.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <list>
#include <stdexcept>

#include "trace/finder.h"

namespace dishwright {

struct World::Scenes {
  RTCDevice device = nullptr;
  std::list<std::vector<FloatPatch>> patches;
  std::list<FloatHeights> height_surfaces;
  std::vector<RTCGeometry> geometries;  // by surface
  std::vector<unsigned> per_element;    // primitives of one tile, by surface
  RTCScene scene[4] = {};
  bool empty[4] = {true, true, true, true};
  bool halves = false;  // is any tile more than one primitive?
};

World::World(const SurfaceList& list) : scenes_(std::make_unique<Scenes>()) {
  // Its `threads` setting would cap the whole process's task scheduler, so it stays at its default.
  scenes_->device = rtcNewDevice(nullptr);
  if (scenes_->device == nullptr) throw std::runtime_error("the ray tracing library could not start");
  find_middle(list);
  for (const Surface& surface : list.surfaces) add_geometry(surface);
  for (int among = 0; among < 4; ++among) {
    RTCScene scene = rtcNewScene(scenes_->device);
    rtcSetSceneFlags(scene, RTC_SCENE_FLAG_ROBUST);
    for (std::size_t k = 0; k < list.surfaces.size(); ++k) {
      const bool mirror = list.surfaces[k].is_mirror();
      const bool shades = !mirror && list.surfaces[k].shades;
      const bool wanted[4] = {true, mirror, shades, mirror || shades};
      if (!wanted[among]) continue;
      scenes_->empty[among] = false;
      rtcAttachGeometryByID(scene, scenes_->geometries[k], static_cast<unsigned>(k));
    }
    rtcCommitScene(scene);
    scenes_->scene[among] = scene;
  }
}

// Floats are finest near the mirrors, where rays start and meet again; a far target needs no more than the angle.
void World::find_middle(const SurfaceList& list) {
  Vector3 low = Vector3::Constant(std::numeric_limits<double>::infinity()), high = -low;
  for (const Surface& surface : list.surfaces) {
    if (!surface.is_mirror()) continue;
    low = low.cwiseMin(surface.middle()), high = high.cwiseMax(surface.middle());
  }
  if (list.reflector_count > 0) origin_ = (low + high) / 2;
  double reach = 0;
  for (const Surface& surface : list.surfaces) reach = std::max(reach, (surface.middle() - origin_).norm() + surface.reach());
  way_out_ = 2.1 * reach;
}

void World::add_geometry(const Surface& surface) {
  unsigned per_element = 1;
  const double rounding = 1e-5 * surface.reach() + 3e-7 * (surface.middle() - origin_).cwiseAbs().maxCoeff();
  const double gap = surface.kind == SurfaceKind::quadric ? 0 : rounding;
  float grid_error = 0;
  RTCGeometry geometry = nullptr;
  switch (surface.kind) {
    case SurfaceKind::quadric:
    case SurfaceKind::petals:
      scenes_->patches.push_back(float_patches(surface, origin_));
      geometry = patch_geometry(scenes_->device, scenes_->patches.back(), surface.kind == SurfaceKind::petals);
      break;
    case SurfaceKind::heights:
      scenes_->height_surfaces.push_back(float_heights(surface, origin_));
      geometry = height_geometry(scenes_->device, scenes_->height_surfaces.back());
      grid_error = scenes_->height_surfaces.back().error;
      break;
    case SurfaceKind::tiles: geometry = tile_geometry(scenes_->device, surface, origin_, per_element); break;
    case SurfaceKind::triangles: geometry = triangle_geometry(scenes_->device, surface, origin_); break;
  }
  rtcCommitGeometry(geometry);
  // Thousands of triangles or tiles stand in a scene of their own, which the others share: one tree in memory instead of three.
  if (surface.kind == SurfaceKind::tiles || surface.kind == SurfaceKind::triangles) geometry = shared(geometry);
  scenes_->geometries.push_back(geometry);
  scenes_->per_element.push_back(per_element);
  scenes_->halves = scenes_->halves || per_element > 1;
  rounding_.push_back(static_cast<float>(rounding));
  start_gap_.push_back(static_cast<float>(gap));
  grid_error_.push_back(grid_error);
}

RTCGeometry World::shared(RTCGeometry geometry) {
  RTCScene own = rtcNewScene(scenes_->device);
  rtcSetSceneFlags(own, RTC_SCENE_FLAG_ROBUST);
  rtcAttachGeometryByID(own, geometry, 0);
  rtcReleaseGeometry(geometry);
  rtcCommitScene(own);
  RTCGeometry instance = rtcNewGeometry(scenes_->device, RTC_GEOMETRY_TYPE_INSTANCE);
  rtcSetGeometryInstancedScene(instance, own);
  rtcReleaseScene(own);
  constexpr float as_it_stands[12] = {1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0};
  rtcSetGeometryTransform(instance, 0, RTC_FORMAT_FLOAT3X4_COLUMN_MAJOR, as_it_stands);
  rtcCommitGeometry(instance);
  return instance;
}

World::~World() {
  for (RTCScene scene : scenes_->scene) rtcReleaseScene(scene);
  for (RTCGeometry geometry : scenes_->geometries) rtcReleaseGeometry(geometry);
  rtcReleaseDevice(scenes_->device);
}

bool World::empty(RayMask among) const { return scenes_->empty[static_cast<int>(among)]; }
float World::rounding(int surface) const { return rounding_[static_cast<std::size_t>(surface)]; }
float World::grid_error(int surface) const { return grid_error_[static_cast<std::size_t>(surface)]; }
float World::start_gap(int surface) const { return start_gap_[static_cast<std::size_t>(surface)]; }

void World::nearest(RayMask among, RayBlock& rays, float limit) const {
  const RTCScene scene = scenes_->scene[static_cast<int>(among)];
  constexpr int width = 16;
  // Fill the last packet with copies of a live ray and an empty interval: packets wider than the machine's vectors ignore
  // `valid`.
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
      packet.ray.tfar[i] = limit;
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
      // None is all ones: −1.
      rays.surface[first + i] = static_cast<int>(instance != RTC_INVALID_GEOMETRY_ID ? instance : packet.hit.geomID[i]);
      rays.distance[first + i] = packet.ray.tfar[i];
      rays.element[first + i] = packet.hit.primID[i];
    }
  }
  if (scenes_->halves) {  // two primitives make one hexagon
    for (int i = 0; i < rays.n; ++i) {
      if (rays.surface[i] >= 0) rays.element[i] /= scenes_->per_element[static_cast<std::size_t>(rays.surface[i])];
    }
  }
}

}  // namespace dishwright
