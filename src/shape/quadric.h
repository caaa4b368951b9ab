// SPDX-License-Identifier: MIT
// Surfaces of second degree about their own z axis, cut to a region: every exact mirror and target face is one of these.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

namespace dishwright {

/// Points x of its own frame with a·x² + b·y² + c·z² − 2 d·z + e = 0; lengths in metres.
///   paraboloid: a = b = 1, d = 2f · sphere bowl: a = b = c = 1, d = R · trough: a = 1, d = 2f · arc trough: a = c = 1, d = R
///   cone z = k r: a = b = 1, c = −1/k² · ellipsoid and hyperboloid of revolution, eccentricity ε, radius R at the vertex: a = b
///   = 1, c = 1 − ε², d = R
///   plane z = 0: d = ½ · ball: a = b = c = 1, e = −R² · tube along y: a = c = 1, e = −R²
template <typename Real>
struct Quadric {
  Real a = 0, b = 0, c = 0, d = 0, e = 0;
};

/// The part of the quadric that is there [m, m²].
template <typename Real>
struct Region {
  static constexpr Real far = std::numeric_limits<Real>::infinity();
  Real x_middle = 0, y_middle = 0;  ///< of the circles and the rectangle below
  Real r2_from = -1, r2_to = far;   ///< r² = (x − x_middle)² + (y − y_middle)²
  Real x_half = far, y_half = far;  ///< |x − x_middle|, |y − y_middle|
  Real z_from = -far, z_to = far;
  Real wedge = far;  ///< |y| <= wedge · x, and so x >= 0, if finite
};

/// Height z of a bowl or trough (e = 0) over a place with a·x² + b·y² = r2, nearest to the vertex; loses no digits there.
inline double bowl_height(const Quadric<double>& q, double r2) {
  return r2 / (q.d + std::sqrt(std::max(0.0, q.d * q.d - q.c * r2)));
}

/// Coefficients of A t² + 2 B t + C = 0 for the points (x, y, z) + t (u, v, w) on the quadric.
struct RayEquation {
  double a, b, c;
};
inline RayEquation ray_equation(const Quadric<double>& q, double x, double y, double z, double u, double v, double w) {
  return {q.a * u * u + q.b * v * v + q.c * w * w, q.a * x * u + q.b * y * v + q.c * z * w - q.d * w,
          q.a * x * x + q.b * y * y + q.c * z * z - 2 * q.d * z + q.e};
}

/// Distance at which a ray that starts on the quadric meets it again, from b (half the rate at which the left side grows along
/// the ray) and a of its equation, whose third coefficient is then 0; infinity if never.
template <typename Real>
inline Real distance_again(Real a, Real b) {
  const Real t = -2 * b / a;
  return t > 0 ? t : Region<Real>::far;
}

/// The root nearest to `guess`, by the form that loses no digits; not finite where there is none. A ray that grazes past by
/// rounding is taken as touching.
inline double root_near(const RayEquation& eq, double guess) {
  const double step = -(eq.b + std::copysign(std::sqrt(std::max(0.0, eq.b * eq.b - eq.a * eq.c)), eq.b));
  const double first = step / eq.a, second = eq.c / step;
  const double miss_first = std::abs(first - guess), miss_second = std::abs(second - guess);
  const double nearer = miss_first < miss_second ? first : second;
  return std::isnan(miss_second) ? first : nearer;
}

}  // namespace dishwright
