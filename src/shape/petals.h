// SPDX-License-Identifier: MIT
// Dishes of petals: pieces of sheet that bend one way only.
#pragma once

#include "shape/mirror_shape.h"

namespace dishwright {

/// `count` equal petals; the middle line of the first runs along +x, the others follow counter-clockwise seen from +z. Each petal
/// is a part of a parabolic cylinder z = k u², u = distance from the vertex along its middle line (in projection), straight
/// across (v):
///   |v| <= u tan(π/count), hole_width/2 <= r <= width/2 (a sheet cut on a circle), r² = u² + v².
/// Lengths from 0.1 mm to 1 km.
struct Petals {
  static constexpr ShapeWords words{"petals", "a dish of petals"};
  double focal_length = 0;      ///< f [m]
  double width = 0;             ///< rim to rim [m]
  int count = 0;                ///< 3 to 1000
  bool seams_on_curve = false;  ///< false: the middle lines are the parabola; true: the seams are
  double hole_width = 0;        ///< [m], 0 <= hole_width < width

  auto values() const { return std::tie(focal_length, width, count, seams_on_curve, hole_width); }
  PlanOutline plan() const { return ring(width, hole_width); }
  HeightRange height_range() const;
  Heights heights() const;
  Vector3 focus() const { return {0, 0, focal_length}; }
  Patches patches() const;
  Patches flawed_patches(const Heights& surface) const;
  int rim_corners() const { return count; }
  std::string details(const LengthWords& say) const;
};

/// k of z = k u² [1/m]: 1/(4 f) with the middle lines on the curve, 1/(4 f cos²(π/count)) with the seams on it.
double petal_coefficient(const Petals& petals);
/// Azimuth of the middle line of petal `index` [rad]: 2 π index / count.
double petal_azimuth(const Petals& petals, int index);
/// The petal over or under the place (x, y); on a seam one of the two.
int petal_at(const Petals& petals, double x, double y);
/// Height of the sheet at the place (x, y) [m].
double petal_height(const Petals& petals, double x, double y);
/// Unit normal of the sheet at the place (x, y), on the bright side (+z).
Vector3 petal_normal(const Petals& petals, double x, double y);
/// Height of the rim at its highest [m].
double petal_depth(const Petals& petals);

}  // namespace dishwright
