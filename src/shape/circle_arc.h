// SPDX-License-Identifier: MIT
// What a spherical bowl and a trough bent to a circle share.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// Height of a circle of radius R at the distance x from its lowest point's axis [m]; R beyond it.
double circle_height(double radius, double x);
/// A bowl wider than the circle it is cut from.
std::vector<ShapeProblem> wider_than_circle(double radius, double width);

}  // namespace dishwright
