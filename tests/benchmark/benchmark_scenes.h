// SPDX-License-Identifier: MIT
// Scenes that benchmarks share.
#pragma once

#include <utility>

#include "scene/scene.h"

namespace dishwright {

/// One mirror and nothing else.
inline Scene one_mirror(ReflectorShape shape) {
  Scene scene;
  Reflector dish;
  dish.name = "dish";
  dish.shape = std::move(shape);
  scene.reflectors.push_back(std::move(dish));
  return scene;
}

/// A mirror with a target that faces it at height z [m].
inline Scene mirror_and_target(ReflectorShape shape, double slope_error, TargetShape target, double z) {
  Scene scene = one_mirror(std::move(shape));
  scene.reflectors[0].reflectance = 0.86;
  scene.reflectors[0].slope_error = slope_error;
  Target one;
  one.name = "target";
  one.shape = std::move(target);
  one.pose.at = Vector3(0, 0, z);
  scene.targets.push_back(std::move(one));
  return scene;
}

/// The mirror of scenes/kettle-dish with a target at its focus.
inline Scene kettle_dish(TargetShape target) {
  constexpr double focal_length = 0.6096;
  return mirror_and_target(Paraboloid{focal_length, 1.2192, 0.0508}, 4e-3, std::move(target), focal_length);
}

}  // namespace dishwright
