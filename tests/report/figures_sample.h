// SPDX-License-Identifier: MIT
// A made-up scene and made-up figures with round numbers, for the tests of texts.
#pragma once

#include <cmath>

#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright::sample {

inline constexpr double inch = 0.0254;

inline Scene kettle_scene() {
  Scene scene;
  scene.title = "Kettle dish";
  scene.sun.beam = 850;
  Reflector dish;
  dish.name = "dish";
  dish.shape = Paraboloid{24 * inch, 48 * inch, 0};
  dish.finish = "aluminised film";
  dish.reflectance = 0.86;
  dish.slope_error = 4e-3;
  scene.reflectors = {dish};
  Target kettle;
  kettle.name = "kettle";
  kettle.shape = DiskTarget{6 * inch};
  kettle.pose.at = {0, 0, 24 * inch};
  scene.targets = {kettle};
  scene.trace.paths = 1'000'000;
  scene.trace.seed = 7;
  scene.notes = {"no half_angle given: 4.65 mrad taken"};
  return scene;
}

/// A round face 4 in wide, 64 × 64 bins, lit by a Gaussian blob of 0.3 in about (0.5 in, 0), 50 kW/m² at its centre, none beyond
/// 3 σ.
inline MapFace blob_face() {
  MapFace face;
  face.name = "front";
  face.across = "x";
  face.up = "y";
  face.columns = face.rows = 64;
  face.x_from = face.y_from = -2 * inch;
  face.x_to = face.y_to = 2 * inch;
  face.round = true;
  for (int row = 0; row < 64; ++row) {
    for (int column = 0; column < 64; ++column) {
      const double x = -2 + (column + 0.5) / 16 - 0.5, y = -2 + (row + 0.5) / 16, r = std::hypot(x, y) / 0.3;
      face.irradiance.push_back(r > 3 ? 0 : 50e3 * std::exp(-r * r / 2));
    }
  }
  return face;
}

inline TraceFigures kettle_figures() {
  TraceFigures figures;
  figures.seed = 7;
  figures.paths = 1'000'000;
  figures.replicates = 32;
  figures.beam = 850;
  figures.aperture_power = {993.2, std::nullopt, "W"};
  TargetFigures kettle;
  kettle.name = "kettle";
  kettle.shape = "disk";
  kettle.area = 0.01824;
  kettle.power = {712.43, 0.61, "W"};
  kettle.direct_power = {15.5, std::nullopt, "W"};
  kettle.intercept = Estimate{0.9432, 0.0021, "1"};
  kettle.peak_irradiance = Estimate{52340, 870, "W/m2"};
  kettle.peak_concentration = Estimate{61.58, 1.02, "1"};
  kettle.mean_irradiance = Estimate{39059, 33, "W/m2"};
  kettle.spot_width_50 = Estimate{0.0155, 0.0002, "m"};
  kettle.spot_width_90 = Estimate{0.0338, 0.0003, "m"};
  kettle.spot_rms_radius = Estimate{0.0111, 0.0001, "m"};
  kettle.centroid = {{{0.0127, 0.0001, "m"}, {0, 0.0001, "m"}}};
  kettle.map = {blob_face()};
  figures.targets = {kettle};
  figures.ledger = {{"kettle", {712.43, 0.61, "W"}},
                    {"shaded by kettle", {15.5, 0.05, "W"}},
                    {"absorbed by dish", {136.9, 0.02, "W"}},
                    {"missed", {128.37, 0.6, "W"}}};
  return figures;
}

}  // namespace dishwright::sample
