// SPDX-License-Identifier: MIT
// From images to the figures of one target, at one order of the quadrature.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <vector>

#include "quadrature/field.h"
#include "result/figures.h"

namespace dishwright {

/// Widths of the light on the unbounded front plane about its centre: a circle (disk) or a band across x (rectangle). [m]
struct SpotWidths {
  std::array<double, 2> centre{};
  std::optional<double> half, most;  ///< full widths that hold 50 % and 90 %
  double sigma = 0;                  ///< width of the sharpest edge of any image
};
/// `about`: instead of the centre. `coarser` takes fewer points by so much; another number so gives other points.
SpotWidths spot_widths(const std::vector<Image>& images, bool band, const std::optional<std::array<double, 2>>& about,
                       double coarser, Effort& effort);

/// Light on the face itself, from its map.
struct FaceLight {
  double power = 0;                  ///< [W]
  std::array<double, 2> centroid{};  ///< [m]
  double rms_radius = 0;             ///< about the centroid [m]
  std::vector<double> irradiance;    ///< as MapFace::irradiance
};
/// Cells narrower than the images are means over the cell to fourth order; wider ones are divided first.
FaceLight face_light(const std::vector<Image>& images, bool front, const MapFace& face, double sigma, Effort& effort);

struct Peak {
  double irradiance = 0;  ///< mean over the disc [W/m²]
  double error = 0;       ///< of finding and averaging, relative [1]; ten times larger where the face's edge cuts the disc
  double x = 0, y = 0;    ///< middle of the disc [m]
};
/// Irradiance about the brightest place, in two coordinates that are lengths on the face.
struct PeakField {
  std::function<std::vector<double>(const PlaneGrid&)> on_grid;
  std::function<std::vector<double>(const PlanePoints&)> at_points;
  std::function<void(double& x, double& y, double margin)> keep;  ///< moves a place to the nearest with so much face on all sides
  double smooth = 0;  ///< σ of a Gaussian that smears it everywhere [m]; 0: not known
  std::function<bool(double x, double y, double margin)> inside;  ///< does the face reach this far beyond the place on all sides?
};
/// Where the search for it begins.
struct PeakStart {
  PeakField field;
  double x = 0, y = 0;
  double half = 0;  ///< how far from there the brightest place may be [m]
};
/// The front of a flat face. It refers to `images` and `effort`.
PeakField plane_field(const std::vector<Image>& images, const MapFace& face, Effort& effort);
/// Mean irradiance over the brightest disc of this diameter.
Peak brightest_disc(PeakStart start, double disc);
/// Mean irradiance over a disc about (x, y) [W/m²]; what reaches beyond the face counts as dark.
double disc_mean(const PeakField& field, double disc, double x, double y);

}  // namespace dishwright
