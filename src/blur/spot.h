// SPDX-License-Identifier: MIT
// From images to the figures of one target, at one order of the quadrature.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "blur/field.h"
#include "tally/figures.h"

namespace dishwright {

/// Widths of the light on the unbounded front plane about its centre: a circle (disk) or a band across x (rectangle). [m]
struct SpotWidths {
  std::array<double, 2> centre{};
  std::optional<double> half, most;  ///< full widths that hold 50 % and 90 %
  double sigma = 0;                  ///< width of the finest detail of any image
};
SpotWidths spot_widths(const std::vector<Image>& images, bool band);

/// Light on the face itself, from its map.
struct FaceLight {
  double power = 0;                  ///< [W]
  std::array<double, 2> centroid{};  ///< [m]
  double rms_radius = 0;             ///< about the centroid [m]
  std::vector<double> irradiance;    ///< as MapFace::irradiance
};
/// Cells narrower than the images are means over the cell to fourth order; wider ones are divided first.
FaceLight face_light(const std::vector<Image>& images, bool front, const MapFace& face, double sigma);

struct Peak {
  double irradiance = 0;  ///< mean over the disc [W/m²]
  double error = 0;       ///< of finding and averaging, relative [1]; ten times larger where the face's edge cuts the disc
  double x = 0, y = 0;    ///< middle of the disc [m]
};
/// Mean irradiance over the brightest disc of this diameter on the face; empty where no light is.
std::optional<Peak> brightest_disc(const std::vector<Image>& images, const MapFace& face, double disc);
/// Mean irradiance over a disc about (x, y) [W/m²]; what reaches beyond the face counts as dark.
double disc_mean(const std::vector<Image>& images, const MapFace& face, double disc, double x, double y);

}  // namespace dishwright
