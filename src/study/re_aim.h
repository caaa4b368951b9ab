// SPDX-License-Identifier: MIT
// How long a dish that is aimed now can be left standing, by the sun's own path over its place.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "base/estimate.h"
#include "base/progress.h"
#include "scene/scene.h"

namespace dishwright {

/// What is left of the light at an angle of the sun from where the dish is aimed.
struct ShareLeft {
  double angle = 0;  ///< [rad]
  double left = 1;   ///< of the share that is caught when aimed [1], in the worst of four ways
};

/// How the light goes while a dish stands.
struct ReAim {
  Estimate share;      ///< of the mirrors' light that is caught when the dish is aimed
  double kept = 0.9;   ///< the part of it that has to stay [1]
  double seconds = 0;  ///< how long it stays, aimed at the sun of the scene's time [s]
  bool open = false;   ///< it was still there at `seconds`, the longest that was tried, or when the sun went down
  double before = 0;   ///< so long before that time the same dish had it already [s]: aimed ahead by that, it lasts both together
  bool open_before = false;
  double drift = 0;                 ///< how far the sun has moved then [rad]
  std::vector<ShareLeft> by_angle;  ///< by rising angle, from 0 on, to where a tenth is left or 20 degrees
};

inline constexpr double longest_re_aim = 3 * 3600;  ///< [s]

/// Of a scene with outdoors, whose mount is taken as aimed at the sun of its time with no error, whatever it was set by. Found by
/// the method of the scene: doubled from 15 s on, then halved to 1 %, always to the safe side; less than `kept` by two standard
/// errors counts as lost. Empty where no light is caught. Throws what light_figures() throws.
std::optional<ReAim> re_aim(const Scene& scene, std::size_t target, double kept, int threads, Watch& watch);

}  // namespace dishwright
