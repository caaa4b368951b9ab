// SPDX-License-Identifier: MIT
// How far the sun may wander before a target loses its light: how long a dish can be left standing.
#pragma once

#include <cstddef>
#include <optional>

#include "base/progress.h"
#include "scene/scene.h"

namespace dishwright {

/// A circle about the sun's present place within which the target keeps its light.
struct AimRoom {
  double angle = 0;      ///< its radius [rad]
  double direction = 0;  ///< the way in which the light goes first, as Sun::aim_direction [rad]
  bool open = false;     ///< the light was still there at `angle`, the farthest that was tried
};

constexpr double widest_aim_room = 0.349;  ///< 20°; the sun takes 80 minutes at least [rad]

/// The largest circle in which target number `target` surely keeps the part `kept` (above 0, below 1) of the share of the mirrors'
/// light that it catches now: less by two standard errors of the difference counts as lost. All stands still but the sun. Eight
/// ways are tried in three steps each and then halved to 1 %, always to the safe side; about the worst of them it is sought to
/// 6°, which is as good. Empty where no light is caught now. Of a scene with a sun; throws what light_figures() throws.
std::optional<AimRoom> aim_room(const Scene& scene, std::size_t target, double kept, int threads, Watch& watch);

/// How long the sun stays within such a circle at least [s]. It turns by 15° an hour against the ground (360° in a mean solar day
/// of 24 h) times the cosine of its declination, which is largest, 1, at the equinoxes; its declination moves by less than
/// 0.02° an hour besides (23.44° · 2π / 365.24 days), which is taken off.
double seconds_within(const AimRoom& room);

}  // namespace dishwright
