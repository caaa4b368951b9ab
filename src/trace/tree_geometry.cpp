// SPDX-License-Identifier: MIT
#include "trace/tree_geometry.h"

#include <array>

#include "trace/float_lanes.h"

namespace dishwright {

namespace {

/// The rays of a packet as rows of numbers, and what is known of where they start.
struct PacketRows {
  const float* ray[6];  // start x, y, z, direction x, y, z
  const float *near_end, *far_end;
  const int* own_surface;
  const float* own_again;
  int surface;
};

RayLanes lanes_of(const PacketRows& rows, int i) {
  const auto load = [&](int row) { return Lanes::load_unaligned(rows.ray[row] + i); };
  return {load(0),
          load(1),
          load(2),
          load(3),
          load(4),
          load(5),
          Lanes::load_unaligned(rows.near_end + i),
          xsimd::to_float(WholeLanes::load_unaligned(rows.own_surface + i)),
          Lanes::load_unaligned(rows.own_again + i)};
}

struct PatchFinder {
  static Lanes find(const void* data, unsigned element, int surface, const RayLanes& rays, const Lanes& far_end) {
    return meet_quadric(static_cast<const FloatPatch*>(data)[element], surface, rays, far_end);
  }
};

struct PetalFinder {
  static Lanes find(const void* data, unsigned element, int /*surface*/, const RayLanes& rays, const Lanes& far_end) {
    return meet_petal(static_cast<const FloatPatch*>(data)[element], rays, far_end);
  }
};

struct ReliefFinder {
  static Lanes find(const void* data, unsigned /*element*/, int /*surface*/, const RayLanes& rays, const Lanes& far_end) {
    return meet_heights(*static_cast<const FloatHeights*>(data), rays, far_end);
  }
};

/// Whole vectors of a packet of `count` rays; writes down what was met.
template <class Finder>
void intersect_rows(const RTCIntersectFunctionNArguments* args, const PacketRows& rows, int count) {
  RTCRayN* ray = RTCRayHitN_RayN(args->rayhit, args->N);
  RTCHitN* hit = RTCRayHitN_HitN(args->rayhit, args->N);
  for (int i = 0; i < count; i += lane_count) {
    const Lanes far_end = Lanes::load_unaligned(rows.far_end + i);
    const Lanes t = Finder::find(args->geometryUserPtr, args->primID, rows.surface, lanes_of(rows, i), far_end);
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

RTCBounds bounds_of(const FloatBox& box) {
  return {box.low[0], box.low[1], box.low[2], 0, box.high[0], box.high[1], box.high[2], 0};
}

void bounds_of_patch(const RTCBoundsFunctionArguments* args) {
  *args->bounds_o = bounds_of(static_cast<const FloatPatch*>(args->geometryUserPtr)[args->primID].box);
}

void bounds_of_heights(const RTCBoundsFunctionArguments* args) {
  *args->bounds_o = bounds_of(static_cast<const FloatHeights*>(args->geometryUserPtr)->box);
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

namespace {

struct Corner {
  float x, y, z;
};
struct DiscPoint {
  float x, y, z, radius;
};

template <class T>
T* new_buffer(RTCGeometry geometry, RTCBufferType type, RTCFormat format, std::size_t count) {
  return static_cast<T*>(rtcSetNewGeometryBuffer(geometry, type, 0, format, sizeof(T), count));
}

RTCGeometry disc_geometry(RTCDevice device, const Surface& surface, const Vector3& origin) {
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_ORIENTED_DISC_POINT);
  const std::size_t count = surface.elements->size();
  auto* points = new_buffer<DiscPoint>(geometry, RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT4, count);
  auto* normals = new_buffer<Corner>(geometry, RTC_BUFFER_TYPE_NORMAL, RTC_FORMAT_FLOAT3, count);
  for (std::size_t k = 0; k < count; ++k) {
    const Element& element = (*surface.elements)[k];
    const Eigen::Vector3f at = (surface.pose.turn * element.at + surface.pose.at - origin).cast<float>();
    const Eigen::Vector3f normal = (surface.pose.turn * element.turn.col(2)).cast<float>();
    points[k] = {at.x(), at.y(), at.z(), static_cast<float>(surface.tiles.width / 2)};
    normals[k] = {normal.x(), normal.y(), normal.z()};
  }
  return geometry;
}

}  // namespace

RTCGeometry tile_geometry(RTCDevice device, const Surface& surface, const Vector3& origin, unsigned& per_element) {
  per_element = 1;
  if (surface.tiles.shape == TileShape::round) return disc_geometry(device, surface, origin);
  const std::vector<Eigen::Vector2d> outline = tile_outline(surface.tiles.shape, surface.tiles.width);
  per_element = outline.size() == 4 ? 1 : 2;  // a hexagon is two four-cornered halves
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_QUAD);
  const std::size_t count = surface.elements->size(), corners = outline.size();
  auto* vertices = new_buffer<Corner>(geometry, RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT3, count * corners);
  auto* indices = new_buffer<std::array<unsigned, 4>>(geometry, RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT4, count * per_element);
  for (std::size_t k = 0; k < count; ++k) {
    const Element& element = (*surface.elements)[k];
    for (std::size_t c = 0; c < corners; ++c) {
      const Eigen::Vector3f point =
          (surface.pose.turn * (element.turn.leftCols<2>() * outline[c] + element.at) + surface.pose.at - origin).cast<float>();
      vertices[k * corners + c] = {point.x(), point.y(), point.z()};
    }
    const unsigned base = static_cast<unsigned>(k * corners);
    indices[k * per_element] = {base, base + 1, base + 2, base + 3};
    if (per_element == 2) indices[k * 2 + 1] = {base, base + 3, base + 4, base + 5};
  }
  return geometry;
}

RTCGeometry triangle_geometry(RTCDevice device, const Surface& surface, const Vector3& origin) {
  const TriangleMesh& mesh = *surface.mesh;
  RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
  auto* vertices = new_buffer<Corner>(geometry, RTC_BUFFER_TYPE_VERTEX, RTC_FORMAT_FLOAT3, mesh.vertices.size());
  for (std::size_t k = 0; k < mesh.vertices.size(); ++k) {
    const Eigen::Vector3f point = (surface.pose.turn * mesh.vertices[k] + surface.pose.at - origin).cast<float>();
    vertices[k] = {point.x(), point.y(), point.z()};
  }
  auto* indices = new_buffer<std::array<unsigned, 3>>(geometry, RTC_BUFFER_TYPE_INDEX, RTC_FORMAT_UINT3, mesh.triangles.size());
  for (std::size_t k = 0; k < mesh.triangles.size(); ++k)
    indices[k] = {mesh.triangles[k][0], mesh.triangles[k][1], mesh.triangles[k][2]};
  return geometry;
}

}  // namespace dishwright
