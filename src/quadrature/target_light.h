// SPDX-License-Identifier: MIT
// Light on the faces of a target.
#pragma once

#include "quadrature/spot.h"
#include "quadrature/surface_field.h"

namespace dishwright {

/// Light on one face; of a curved one only power and irradiance.
FaceLight light_on(const std::vector<Image>& images, const MappedFace& face, double sigma, Effort& effort);

/// Light on the back of a disk or rectangle [W].
double light_on_back(const std::vector<Image>& images, const MappedFace& face, double sigma, Effort& effort);

/// Twice the median distance of the light from its middle (across a tube's axis only), as the tracer's peak wants it [m]; 0 where
/// no light is.
double middle_width(const std::vector<MappedFace>& faces, const std::vector<FaceLight>& light);

/// The brightest cell of the brightest face.
struct BrightCell {
  std::size_t face = 0;
  int cell = 0;
};
/// Empty where no light is.
std::optional<BrightCell> brightest_cell(const std::vector<FaceLight>& light);
/// The search for the peak about a cell of a face: on a base in its x and y, else in steps from the cell's middle.
PeakStart peak_about(const std::vector<Image>& images, const MappedFace& face, int cell, Effort& effort);

/// Light on what does not count, a pot's lid or the inside of a tube [W].
double other_power(const std::vector<Image>& images, const Receiver& receiver, double sigma, Effort& effort);

}  // namespace dishwright
