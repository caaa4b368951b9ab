// SPDX-License-Identifier: MIT
// Ray ends as a test tells them, and scenes that have nothing but targets for them.
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "scene/scene.h"
#include "tally/counts.h"
#include "tally/pilot.h"
#include "trace/rays.h"
#include "trace/scene_surfaces.h"

namespace dishwright::testing {

/// Points with weights, handed over in blocks as the tracer does.
class Ends {
 public:
  void add(double x, double y, double z = 0, double share = 1) {
    x_.push_back(x), y_.push_back(y), z_.push_back(z), weight_.push_back(share * full_weight);
  }
  std::size_t size() const { return x_.size(); }
  template <class Take>
  void each_block(const Take& take) const {
    for (std::size_t from = 0; from < size(); from += block_size) {
      take(WeightedPoints{static_cast<int>(std::min<std::size_t>(block_size, size() - from)), x_.data() + from, y_.data() + from,
                          z_.data() + from, weight_.data() + from});
    }
  }
  void land(RayEnds& on, int surface) const {
    each_block([&](const WeightedPoints& points) { on.landed(surface, points); });
  }
  void cross(RayEnds& on, int target) const {
    each_block([&](const WeightedPoints& points) { on.crossed(target, points); });
  }

 private:
  std::vector<double> x_, y_, z_, weight_;
};

/// One dish and these targets, in the sun or in the light of a lamp.
inline Scene scene_of(const std::vector<TargetShape>& shapes, bool lamp = false) {
  Scene scene;
  Reflector dish;
  dish.name = "dish";
  dish.shape = Paraboloid{1, 1, 0};
  scene.reflectors.push_back(dish);
  for (const TargetShape& shape : shapes) {
    Target target;
    target.name = "target " + std::to_string(scene.targets.size() + 1);
    target.shape = shape;
    scene.targets.push_back(target);
  }
  if (lamp) scene.lamp = Lamp{};
  return scene;
}

/// The surface that is this face of this target.
inline int surface_of(const SurfaceList& list, int target, int face = 0) {
  for (std::size_t k = 0; k < list.surfaces.size(); ++k) {
    const Surface& surface = list.surfaces[k];
    if (surface.counts() && surface.owner == target && surface.face == face) return static_cast<int>(k);
  }
  return -1;
}

/// An aim at the middle of a flat face.
inline TargetScale scale_of(double r50, double r90) {
  TargetScale aim;
  aim.r50 = r50, aim.r90 = r90, aim.scale = r90;
  return aim;
}

}  // namespace dishwright::testing
