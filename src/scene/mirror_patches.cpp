// SPDX-License-Identifier: MIT
#include "scene/mirror_patches.h"

#include <type_traits>
#include <utility>

#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

/// The mirror's patches, own frame: with flaws heights over its plan.
Patches own_patches(const Reflector& mirror) {
  Heights flawed = mirror.flaws.any() ? flawed_surface(mirror) : nullptr;
  if (flawed == nullptr) return shape_patches(mirror.shape);
  return std::visit(
      [&](const auto& s) -> Patches {
        if constexpr (requires { s.flawed_patches(flawed); }) return s.flawed_patches(flawed);
        return {height_patch(flawed, s.plan(), true)};
      },
      mirror.shape);
}

}  // namespace

Patches shape_patches(const ReflectorShape& shape) {
  return std::visit(
      [&](const auto& s) -> Patches {
        if constexpr (requires { s.patches(); }) {
          return s.patches();
        } else {
          return {height_patch(
              s.heights(), s.plan(), requires { requires std::decay_t<decltype(s)>::may_wave; })};
        }
      },
      shape);
}

MirrorPatch placed(MirrorPatch own, const Pose& pose, int reflector) {
  const bool stays = pose.turn == Matrix3::Identity() && pose.at == Vector3::Zero();
  MirrorPatch patch = stays ? std::move(own) : moved(std::move(own), pose.turn, pose.at);
  patch.reflector = reflector;
  return patch;
}

Patches mirror_patches(const Scene& scene) {
  Patches all;
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    for (MirrorPatch& patch : own_patches(scene.reflectors[k]))
      all.push_back(placed(std::move(patch), scene.reflectors[k].pose, static_cast<int>(k)));
  }
  return all;
}

}  // namespace dishwright
