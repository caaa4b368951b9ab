// SPDX-License-Identifier: MIT
// What mirrors with two foci share: ellipsoid and hyperboloid about the z axis, vertex at the origin, z toward the near focus.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// A conic of revolution r² − 2 R z + (1 − e²) z² = 0.
struct Conic {
  double eccentricity = 0;  ///< e [1]
  double apex_radius = 0;   ///< R, radius of curvature at the vertex [m]
  double shape_factor = 0;  ///< 1 − e² [1], computed without cancellation
  Quadric<double> quadric() const { return {1, 1, shape_factor, apex_radius, 0}; }
  /// Height at the radius r of the sheet through the vertex [m].
  double height(double r) const { return bowl_height(quadric(), r * r); }
};

/// Ellipsoid with foci at z = near_focus and z = far_focus, 0 < near < far: e = (far − near)/(far + near), R = near (1 + e).
/// Bright on the concave side (+z). Light from one focus goes to the other.
Conic ellipsoid_conic(double near_focus, double far_focus);
/// Hyperboloid with foci at z = near_focus and z = −far_focus, 0 < near < far: e = (far + near)/(far − near), R = near (1 + e).
/// Bright on the convex side (−z). Light on its way to the near focus goes to the far one.
Conic hyperboloid_conic(double near_focus, double far_focus);
/// Widest part of an ellipsoid [m]: 2 √(near · far). It is this wide at z = (near + far)/2.
double ellipsoid_widest(double near_focus, double far_focus);

/// The conic turned about its axis; `side` +1: bright on the concave side, −1: on the convex.
Patches conic_patches(const Conic& conic, double hole_width, double width, double side);
/// Foci that do not make the curve; `same_as`: what it is with both equally far, `instead`: what to write then.
std::vector<ShapeProblem> wrong_foci(double near_focus, double far_focus, const std::string& same_as, const std::string& instead);

}  // namespace dishwright
