// SPDX-License-Identifier: MIT
// The few places where Embree 3 and 4 differ.
#pragma once

#if __has_include(<embree4/rtcore.h>)
#include <embree4/rtcore.h>
#else
#include <embree3/rtcore.h>
#endif

namespace dishwright {

/// Nearest hits of sixteen rays that go every which way.
inline void intersect_sixteen(const int* valid, RTCScene scene, RTCRayHit16* rays) {
#if RTC_VERSION_MAJOR >= 4
  RTCRayQueryContext context;
  rtcInitRayQueryContext(&context);
  RTCIntersectArguments arguments;
  rtcInitIntersectArguments(&arguments);
  arguments.context = &context;
  arguments.flags = RTC_RAY_QUERY_FLAG_INCOHERENT;
  rtcIntersect16(valid, scene, rays, &arguments);
#else
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  context.flags = RTC_INTERSECT_CONTEXT_FLAG_INCOHERENT;
  rtcIntersect16(valid, scene, &context, rays);
#endif
}

}  // namespace dishwright
