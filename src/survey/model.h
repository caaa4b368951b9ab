// SPDX-License-Identifier: MIT
// The shapes that are fitted to measured points: where they stand, how far a point is from them, and how that distance changes
// with each number of the fit.
#pragma once

#include <Eigen/Core>
#include <array>
#include <string>

#include "scene/scene.h"
#include "shape/quadric.h"
#include "survey/meant_surface.h"

namespace dishwright {

/// meant: a surface of another shape, held as it is but for where it stands and, where it has a focus, how deep it is.
enum class ShapeKind { paraboloid, sphere, trough, meant };

/// "paraboloid", "sphere", "trough", "design".
std::string shape_kind_word(ShapeKind kind);

/// A fitted shape. Own frame: vertex at the origin, axis +z toward the sun, mirror side up; a trough lies along y.
struct PlacedShape {
  ShapeKind kind = ShapeKind::paraboloid;
  double size = 1;                     ///< focal length of a paraboloid or trough, radius of a sphere; MeantSurface::size [m]
  Meant meant;                         ///< of the kind `meant` only; its heights are those of the design times (its size)/size
  Vector3 vertex = Vector3::Zero();    ///< in the frame of the readings [m]; any point of the vertex line of a trough
  Matrix3 turn = Matrix3::Identity();  ///< rotation own → readings; its columns are the own axes

  /// "a paraboloid", "a dish of 12 petals".
  std::string word() const { return kind == ShapeKind::meant ? meant->word : "a " + shape_kind_word(kind); }
  /// One place after another round the middle, not in rows.
  bool round() const { return kind == ShapeKind::meant ? meant->plan.round : kind != ShapeKind::trough; }
  /// Does light along its axis meet at a place?
  bool has_focus() const { return kind != ShapeKind::meant || meant->scales(); }
  /// Vertex to focus [m]; half the radius for a sphere (paraxial).
  double focal_length() const { return kind == ShapeKind::sphere ? size / 2 : size; }
  Vector3 axis() const { return turn.col(2); }
  Vector3 to_own(const Vector3& point) const { return turn.transpose() * (point - vertex); }
  Vector3 from_own(const Vector3& point) const { return turn * point + vertex; }
};

/// The point of a shape nearest to a measured point, in the shape's own frame.
struct FootPoint {
  Vector3 point;        ///< on the surface [m]
  Vector3 normal;       ///< unit, toward the sun side
  double distance = 0;  ///< of the measured point along the normal [m]; positive on the sun side
};

/// Numbers of a fit: size, vertex x, y, z (own axes), turn about x, y, z (own axes).
constexpr int fit_numbers = 7;
using FitVector = Eigen::Matrix<double, fit_numbers, 1>;

/// Which of them are free: a sphere has no turn, a round bowl none about z, a trough no shift along y.
/// Of a design: its size only where it has a focus, no shift along its lines (where no normal leans that way), no turn about z:
/// 12 o'clock, or +y, is marked on the mirror.
std::array<bool, fit_numbers> free_numbers(ShapeKind kind);
std::array<bool, fit_numbers> free_numbers(const PlacedShape& shape);

/// Orthogonal distance to the nearest point (a cubic for the parabola, by Newton's method to 1e-14 of the size).
/// `own` is in the own frame. Checked against dense search.
FootPoint nearest_foot(ShapeKind kind, double size, const Vector3& own);
/// The same for any shape; of a design by going down its normals, to 1e-12 of the size where it is smooth.
FootPoint nearest_foot(const PlacedShape& shape, const Vector3& own);

/// d(distance)/d(number) of the fit at a foot: −normal · (motion of the surface there), since the foot is a minimum.
FitVector distance_slopes(ShapeKind kind, double size, const FootPoint& foot);
FitVector distance_slopes(const PlacedShape& shape, const FootPoint& foot);

/// The shape after small changes of its numbers.
PlacedShape moved(const PlacedShape& shape, const FitVector& change);

/// The shape as a quadric of its own frame.
Quadric<double> own_quadric(ShapeKind kind, double size);
/// Height of the shape over a place of its own frame [m].
double own_height(ShapeKind kind, double size, double x, double y);
double own_height(const PlacedShape& shape, double x, double y);
/// dz/dx and dz/dy there.
Eigen::Vector2d own_slope(ShapeKind kind, double size, double x, double y);
Eigen::Vector2d own_slope(const PlacedShape& shape, double x, double y);
/// Of a design: heights [m] and slopes at n places of the frame that it is placed in.
void meant_heights(const PlacedShape& shape, int n, const double* x, const double* y, double* h, double* slope_x,
                   double* slope_y);

}  // namespace dishwright
