// SPDX-License-Identifier: MIT
// What summing images will take, before it is done.
#pragma once

#include <vector>

#include "quadrature/image.h"
#include "quadrature/receiver.h"

namespace dishwright {

/// About spot_width_50, or twice the median distance of the light from its middle [m], from the images' centres and widths alone.
double rough_size(const std::vector<Image>& images, const Receiver& receiver);
/// Work of spot_widths() [looks]. Good to a factor of two or so, as are the others.
double widths_work(const std::vector<Image>& images, bool band);
/// Work of the light on a face and of the search for its peak [looks].
double face_work(const std::vector<Image>& images, const MappedFace& face, double sigma);

}  // namespace dishwright
