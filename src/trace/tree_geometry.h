// SPDX-License-Identifier: MIT
// Surfaces as geometries of the ray tracing library, and the few places where its versions 3 and 4 differ.
#pragma once

#if __has_include(<embree4/rtcore.h>)
#include <embree4/rtcore.h>
#else
#include <embree3/rtcore.h>
#endif

#include <vector>

#include "trace/float_shapes.h"

namespace dishwright {

#if RTC_VERSION_MAJOR >= 4
using QueryContext = RTCRayQueryContext;
#else
using QueryContext = RTCIntersectContext;
#endif

/// What the callbacks need to know of sixteen rays beyond the rays themselves; by the ray's id, 0 … 15.
struct PacketContext : QueryContext {
  const int* own_surface = nullptr;
  const float* own_again = nullptr;
};

/// Nearest hits of sixteen rays that go every which way.
inline void intersect_sixteen(const int* valid, RTCScene scene, PacketContext& context, RTCRayHit16* rays) {
#if RTC_VERSION_MAJOR >= 4
  rtcInitRayQueryContext(&context);
  RTCIntersectArguments arguments;
  rtcInitIntersectArguments(&arguments);
  arguments.context = &context;
  arguments.flags = RTC_RAY_QUERY_FLAG_INCOHERENT;
  rtcIntersect16(valid, scene, rays, &arguments);
#else
  rtcInitIntersectContext(&context);
  context.flags = RTC_INTERSECT_CONTEXT_FLAG_INCOHERENT;
  rtcIntersect16(valid, scene, &context, rays);
#endif
}

/// Geometries with their callbacks and bounds; the data must outlive them.
RTCGeometry patch_geometry(RTCDevice device, const std::vector<FloatPatch>& patches, bool petals);
RTCGeometry height_geometry(RTCDevice device, const FloatHeights& heights);
/// Tiles and meshes as the library's own primitives; `origin` is the world's own, in the frame. `per_element` is set to the
/// number of primitives of one tile.
RTCGeometry tile_geometry(RTCDevice device, const Surface& surface, const Vector3& origin, unsigned& per_element);
RTCGeometry triangle_geometry(RTCDevice device, const Surface& surface, const Vector3& origin);

}  // namespace dishwright
