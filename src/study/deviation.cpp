// SPDX-License-Identifier: MIT
#include "study/deviation.h"

#include "scene/validate.h"

namespace dishwright {

std::optional<Scene> sensible(Scene scene) {
  if (!validate_scene(scene).empty()) return std::nullopt;
  return scene;
}

bool scale_focal_length(ReflectorShape& shape, double factor) {
  return std::visit(
      [factor](auto& s) {
        if constexpr (requires { s.focal_length; }) return (s.focal_length *= factor) > 0;
        if constexpr (requires { s.radius; }) return (s.radius *= factor) > 0;
        return false;
      },
      shape);
}

void set_width(TargetShape& shape, double width) {
  std::visit(
      [width](auto& s) {
        if constexpr (!std::is_same_v<std::decay_t<decltype(s)>, PointTarget>) s.width = width;
      },
      shape);
}

Scene shifted(Scene scene, std::size_t target, const Vector3& by) {
  scene.targets[target].pose.at += scene.reflectors.front().pose.turn * by;
  return scene;
}

double distance_to_target(const Scene& scene, std::size_t target) {
  return (scene.targets[target].pose.at - scene.reflectors.front().pose.at).norm();
}

const std::array<OffsetSide, 6>& offset_sides() {
  static const std::array<OffsetSide, 6> sides = {{{"offset_along", "toward the mirror", {0, 0, -1}},
                                                   {"offset_along", "away from the mirror", {0, 0, 1}},
                                                   {"offset_across", "+x", {1, 0, 0}},
                                                   {"offset_across", "-x", {-1, 0, 0}},
                                                   {"offset_across", "+y", {0, 1, 0}},
                                                   {"offset_across", "-y", {0, -1, 0}}}};
  return sides;
}

}  // namespace dishwright
