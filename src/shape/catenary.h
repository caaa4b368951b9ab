// SPDX-License-Identifier: MIT
// The curve of a hanging chain, turned about its axis: z = a (cosh(r/a) − 1).
#pragma once

namespace dishwright {

/// The parameter a of the catenary that is `width` across and `depth` deep [m]; a is the radius of curvature at the vertex, so the focus of
/// rays near the axis is at a/2. Exact to a few units of the last place for depth/width from 1e-7 to 1e7.
double catenary_parameter(double width, double depth);
/// z = a (cosh(r/a) − 1) = 2 a sinh²(r/(2a)) [m]; loses no digits near the vertex.
double catenary_height(double a, double r);
/// dz/dr = sinh(r/a) [1].
double catenary_slope(double a, double r);

}  // namespace dishwright
