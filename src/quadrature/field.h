// SPDX-License-Identifier: MIT
// Irradiance on the target's plane: the sum of all images.
#pragma once

#include <vector>

#include "quadrature/effort.h"
#include "quadrature/image.h"

namespace dishwright {

/// Evenly spaced places: centre of cell (0, 0) and steps [m].
struct PlaneGrid {
  double x_first = 0, y_first = 0, step_x = 0, step_y = 0;
  int columns = 0, rows = 0;
  double x(int column) const { return x_first + column * step_x; }
  double y(int row) const { return y_first + row * step_y; }
};

/// Any places [m].
struct PlanePoints {
  std::vector<double> x, y;
};

/// σ of the Gaussian that smears all of these images [m]; 0 where there may be edges.
double smoothness(const std::vector<Image>& images, bool front);

/// Irradiance of the images that come to the front (or the back) of the plane [W/m²], rows × columns. Single precision in sums of
/// 256 images, then double: about 1e-6 of the brightest.
std::vector<double> field_on_grid(const std::vector<Image>& images, bool front, const PlaneGrid& grid, Effort& effort);
std::vector<double> field_at_points(const std::vector<Image>& images, bool front, const PlanePoints& points, Effort& effort);

}  // namespace dishwright
