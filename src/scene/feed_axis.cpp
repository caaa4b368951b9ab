// SPDX-License-Identifier: MIT
#include "scene/feed_axis.h"

namespace dishwright {

namespace {

/// Unit, or nothing where the way is too short to say where it leads, against `size`.
Vector3 direction_of(const Vector3& way, double size) {
  constexpr double shortest = 1e-9;
  return way.norm() > shortest * size ? Vector3(way.normalized()) : Vector3(Vector3::Zero());
}

}  // namespace

Vector3 feed_axis(const Reflector& reflector, const Vector3& place) {
  const auto* offset = std::get_if<OffsetParaboloid>(&reflector.shape);
  if (offset == nullptr) return direction_of(reflector.pose.at - place, rim_width(reflector.shape));
  const auto edge = [&](double y) {
    const Vector3 own(0, y, y * y / (4 * offset->focal_length));
    return direction_of(reflector.pose.turn * own + reflector.pose.at - place, offset->width);
  };
  return direction_of(edge(offset->clearance) + edge(offset->clearance + offset->width), 1);
}

}  // namespace dishwright
