// SPDX-License-Identifier: MIT
// Every shape of mirror there is, and a scene for it.
#pragma once

#include "../trace/sample_shapes.h"
#include "scenes.h"

namespace dishwright::test {

inline std::vector<SampleShape> every_shape() {
  std::vector<SampleShape> all = sample_shapes();
  const std::vector<SampleShape> plain = {{"paraboloid", Paraboloid{0.6, 1.2, 0.1}},
                                          {"sphere", SphereBowl{1.2, 1.2, 0.1}},
                                          {"trough", Trough{0.6, 1.2, 0.9}},
                                          {"arc trough", ArcTrough{1.2, 1, 0.9}},
                                          {"flat", Flat{0.6, 0.6}},
                                          {"hyperboloid", Hyperboloid{0.8, 2.4, 1.2, 0.1}}};
  all.insert(all.end(), plain.begin(), plain.end());
  return all;
}

inline Scene scene_of(const ReflectorShape& shape, const TargetShape& goal) {
  Scene made = scene(limb_sun(), mirror(shape, 4e-3), target(goal, {0.01, 0, 0.6}), 1024, 5);
  made.reflectors[0].reflectance = 0.9;
  made.targets[0].shades = true;
  made.sun.aim_error = degrees(1);
  return made;
}

}  // namespace dishwright::test
