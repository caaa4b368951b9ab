// SPDX-License-Identifier: MIT
// Where the bright spot of a dish that is left standing runs while the sun goes over it (decision 35). Knows nothing of clocks and
// places: the sun's directions are handed in.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "base/progress.h"
#include "scene/scene.h"

namespace dishwright {

/// The sun at one time.
struct SunStep {
  double seconds = 0;                 ///< when; handed on only [s]
  Vector3 toward = Vector3::UnitZ();  ///< unit vector to it in earth axes (x east, y north, z up)
  double beam = 0;                    ///< on a surface that faces it [W/m²]
};

/// How a dish is parked and what stands about it.
struct ParkedDish {
  Matrix3 axes = Matrix3::Identity();  ///< the scene's axes in earth axes, as columns; the unit matrix is face up
  double height = 0.9144;              ///< of the first mirror's vertex above the ground or the seat [m]
  double wall = 0.9144;                ///< of an upright wall from the vertex, on each of four sides [m]
  std::optional<double> roof;  ///< above the vertex, and walls all round, as in a vehicle; else the walls are only asked for [m]
};

/// A place and how bright it gets there.
struct BurnSpot {
  double irradiance = 0;         ///< [W/m²]; 0: no light comes there
  Vector3 at = Vector3::Zero();  ///< east, north and up from the first mirror's vertex [m]
};

inline constexpr std::array<const char*, 4> wall_names = {"north", "east", "south", "west"};

struct BurnStep {
  SunStep sun;
  bool behind = false;            ///< the sun is behind the mirror, or grazes it
  BurnSpot spot;                  ///< the brightest place in the air, on a face square to the mean way of the light
  BurnSpot ground;                ///< the brightest of the ground
  std::array<BurnSpot, 4> walls;  ///< of a wall to the north, east, south, west
  BurnSpot roof;                  ///< where there is one
};

/// For each sun: some 400 rays off the mirrors, targets taken away; the width of their tubes and the blur of sun and skin on planes
/// square to their mean way, from a twentieth of the mirror's size to ten times as far; there by the sun's disc. Light below the ground
/// (and beyond walls and roof of a closed room) has ended. Against a traced plate's brightest spot irradiances are
/// some 20 % high under a sun on the axis and come out too low under a slanting one, by some 10 % at 10 degrees from the axis, 20 %
/// at 25 and a third at 60 (tests/study/burn_track_test.cpp). Left out: the dish's own stand and what else is in the way; light that bounces off the ground or glass; dust.
/// Same bits on any number of threads. Of a scene with a sun, else empty. Throws Interrupted when watch.stop is set.
std::vector<BurnStep> burn_track(const Scene& scene, const ParkedDish& parked, const std::vector<SunStep>& suns, int threads,
                                 const Watch& watch);

}  // namespace dishwright
