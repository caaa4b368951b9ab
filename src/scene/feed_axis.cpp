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
  const auto edges = std::visit(
      [](const auto& s) -> std::optional<RimEdges> {
        if constexpr (requires { s.near_and_far_edge(); }) return s.near_and_far_edge();
        return std::nullopt;
      },
      reflector.shape);
  const double size = rim_width(reflector.shape);
  if (!edges) return direction_of(reflector.pose.at - place, size);
  // Half way between the lines to the near and to the far edge.
  const auto toward = [&](const Vector3& edge) {
    return direction_of(reflector.pose.turn * edge + reflector.pose.at - place, size);
  };
  return direction_of(toward((*edges)[0]) + toward((*edges)[1]), 1);
}

}  // namespace dishwright
