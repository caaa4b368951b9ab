// SPDX-License-Identifier: MIT
// Scenes for waves in one line.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "wave/setup.h"

namespace dishwright::test {

constexpr double pi = std::numbers::pi;
inline double degrees(double angle) { return angle * pi / 180; }
inline double decibels(double amplitude) { return 20 * std::log10(amplitude); }

inline Scene wave_scene(const ReflectorShape& shape) {
  Scene scene;
  Reflector dish;
  dish.name = "dish";
  dish.shape = shape;
  scene.reflectors.push_back(dish);
  return scene;
}
/// A wave of so many metres length; the speed is 343 m/s.
inline WaveSetup of_length(double wavelength) {
  WaveSetup setup;
  setup.speed = 343;
  setup.frequency = 343 / wavelength;
  return setup;
}
inline const WaveSource along_axis = WaveSource::from_far(Vector3::UnitZ());

}  // namespace dishwright::test
