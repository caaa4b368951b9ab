// SPDX-License-Identifier: MIT
// Made-up figures of sound and radio with round numbers.
#pragma once

#include <numbers>

#include "figures_sample.h"
#include "study/wave_figures.h"

namespace dishwright::sample {

/// The kettle's dish, 48 in wide, in front of a microphone.
inline Scene sound_scene() {
  Scene scene = kettle_scene();
  scene.title = "Sound dish";
  scene.sound = Sound{};
  scene.sound->frequencies = {500, 2000, 8000};
  scene.targets[0].name = "microphone";
  scene.targets[0].shape = PointTarget{};
  scene.reflectors[0].wave_reflectance = 0.8;
  return scene;
}
inline Scene radio_scene() {
  Scene scene = sound_scene();
  scene.title = "Radio dish";
  scene.sound.reset();
  scene.radio = Radio{};
  scene.radio->frequencies = {1.68e9};
  scene.targets[0].name = "feed";
  return scene;
}

inline WaveAnswer answer(std::optional<double> gain, std::optional<double> mirror_alone, std::optional<double> width_degrees,
                         std::optional<double> side_lobe) {
  WaveAnswer out;
  out.gain = gain, out.reflected_gain = mirror_alone, out.side_lobe = side_lobe;
  if (width_degrees) out.half_power_width = *width_degrees * std::numbers::pi / 180;
  return out;
}

/// 500 Hz, 2 kHz (shown) and 8 kHz at 343 m/s: waves of 686, 171.5 and 42.875 mm.
inline WaveFigures sound_figures() {
  WaveFigures figures;
  figures.speed = 343;
  figures.frequencies = {500, 2000, 8000};
  figures.shown = 1;
  figures.targets = {{"microphone", {answer(2.04, -1.5, {}, {}), answer(17.34, 16.96, 17.62, -13.24), answer(28, 27.9, 4, -17)}}};
  figures.details.resize(3);
  for (std::size_t k = 0; k < 3; ++k)
    figures.details[k].misses = {{"aside_25mm", "25 mm (0.98 in) aside", 0.1 * static_cast<double>(k)},
                                 {"aim_5deg", "5 deg off", {}}};
  figures.convergence = {1508, 1e-5, true};
  return figures;
}
inline WaveFigures radio_figures() {
  WaveFigures figures;
  figures.radio = true;
  figures.speed = 299'792'458;
  figures.frequencies = {1.68e9};
  WaveAnswer one = answer(24.06, {}, 10.5, -22.3);
  one.radio = RadioFigures{};
  one.radio->aperture_efficiency = 0.5512;
  one.radio->spillover = 0.75, one.radio->taper = 0.9, one.radio->phase = 0.985, one.radio->blockage = 0.8294;
  figures.targets = {{"feed", {one}}};
  figures.details.resize(1);
  figures.convergence = {1508, 1e-5, true};
  return figures;
}

}  // namespace dishwright::sample
