// SPDX-License-Identifier: MIT
#include "survey/model.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

/// Distance along the profile's own r from the axis to the nearest point of z = s²/(4f): the root s of
/// s³/(8f²) + s(1 − z/(2f)) = r that lies on r's side.
double parabola_foot(double f, double r, double z) {
  const double cubic = 1 / (8 * f * f), linear = 1 - z / (2 * f);
  // Near the surface r itself is a good start; the function rises and bends upward from max(r, turning point) on.
  double s = r;
  if (linear < 0) s = std::max(s, 2 * std::sqrt(-linear / (3 * cubic)));
  constexpr int most_steps = 60;
  for (int i = 0; i < most_steps; ++i) {
    const double value = (cubic * s * s + linear) * s - r, slope = 3 * cubic * s * s + linear;
    if (!(slope > 0)) break;
    const double step = value / slope;
    s = std::max(0.0, s - step);
    if (std::abs(step) <= 1e-14 * (std::abs(s) + f)) break;
  }
  return s;
}

FootPoint parabolic_foot(double f, const Vector3& own, double r, const Vector3& outward) {
  const double s = parabola_foot(f, r, own.z());
  FootPoint foot;
  foot.point = s * outward + Vector3(0, 0, s * s / (4 * f));
  foot.normal = (Vector3(0, 0, 1) - s / (2 * f) * outward).normalized();
  const double across = r - s, up = own.z() - s * s / (4 * f);
  foot.distance = across * foot.normal.dot(outward) + up * foot.normal.z();
  return foot;
}

/// Height and slopes of a design made deeper or shallower, in its own frame.
HeightAt meant_at(const PlacedShape& shape, double x, double y) {
  HeightAt at = shape.meant->over(x, y);
  const double deeper = shape.meant->size / shape.size;
  at.height *= deeper, at.slope_x *= deeper, at.slope_y *= deeper;
  return at;
}

/// From the place under the point down along the normal, again and again: each step leaves (distance/radius of curvature) of the
/// way.
FootPoint meant_foot(const PlacedShape& shape, const Vector3& own) {
  FootPoint foot;
  Eigen::Vector2d at = own.head<2>();
  constexpr int most_steps = 12;
  for (int k = 0; k < most_steps; ++k) {
    const HeightAt here = meant_at(shape, at.x(), at.y());
    foot.point = Vector3(at.x(), at.y(), here.height);
    foot.normal = Vector3(-here.slope_x, -here.slope_y, 1).normalized();
    foot.distance = (own - foot.point).dot(foot.normal);
    const Eigen::Vector2d next = own.head<2>() - foot.distance * foot.normal.head<2>();
    if ((next - at).norm() <= 1e-12 * shape.size) break;
    at = next;
  }
  return foot;
}

}  // namespace

std::string shape_kind_word(ShapeKind kind) {
  switch (kind) {
    case ShapeKind::paraboloid: return "paraboloid";
    case ShapeKind::sphere: return "sphere";
    case ShapeKind::trough: return "trough";
    case ShapeKind::meant: return "design";
  }
  return "";
}

std::array<bool, fit_numbers> free_numbers(ShapeKind kind) {
  switch (kind) {
    case ShapeKind::paraboloid: return {true, true, true, true, true, true, false};
    case ShapeKind::sphere: return {true, true, true, true, false, false, false};
    case ShapeKind::trough: return {true, true, false, true, true, true, true};
    case ShapeKind::meant: return {true, true, true, true, true, true, false};
  }
  return {};
}

FootPoint nearest_foot(ShapeKind kind, double size, const Vector3& own) {
  if (kind == ShapeKind::sphere) {
    const Vector3 centre(0, 0, size);
    const double away = (own - centre).norm();
    const Vector3 normal = away > 0 ? Vector3((centre - own) / away) : Vector3(0, 0, 1);
    return {centre - size * normal, normal, size - away};
  }
  if (kind == ShapeKind::trough) {
    FootPoint foot = parabolic_foot(size, own, std::abs(own.x()), Vector3(own.x() < 0 ? -1 : 1, 0, 0));
    foot.point.y() = own.y();
    return foot;
  }
  const double r = std::hypot(own.x(), own.y());
  return parabolic_foot(size, own, r, r > 0 ? Vector3(own.x() / r, own.y() / r, 0) : Vector3(1, 0, 0));
}

std::array<bool, fit_numbers> free_numbers(const PlacedShape& shape) {
  std::array<bool, fit_numbers> out = free_numbers(shape.kind);
  if (shape.kind != ShapeKind::meant) return out;
  out[0] = shape.meant->scales();
  if (!shape.meant->plan.round) out[2] = false;
  return out;
}

FootPoint nearest_foot(const PlacedShape& shape, const Vector3& own) {
  return shape.kind == ShapeKind::meant ? meant_foot(shape, own) : nearest_foot(shape.kind, shape.size, own);
}

FitVector distance_slopes(const PlacedShape& shape, const FootPoint& foot) {
  FitVector slopes = distance_slopes(shape.kind, shape.size, foot);
  const auto is_free = free_numbers(shape);
  for (int i = 0; i < fit_numbers; ++i) {
    if (!is_free[static_cast<std::size_t>(i)]) slopes[i] = 0;
  }
  return slopes;
}

FitVector distance_slopes(ShapeKind kind, double size, const FootPoint& foot) {
  FitVector slopes;
  // Growth of the focal length lowers z = s²/(4f) by s²/(4f²); growth of a radius lifts the centre.
  const double lowered = foot.point.z() / size;
  slopes[0] = kind == ShapeKind::sphere ? 1 - foot.normal.z() : foot.normal.z() * lowered;
  slopes.segment<3>(1) = -foot.normal;
  slopes.segment<3>(4) = -foot.point.cross(foot.normal);
  const auto is_free = free_numbers(kind);
  for (int i = 0; i < fit_numbers; ++i) {
    if (!is_free[static_cast<std::size_t>(i)]) slopes[i] = 0;
  }
  return slopes;
}

PlacedShape moved(const PlacedShape& shape, const FitVector& change) {
  PlacedShape out = shape;
  out.size = shape.size + change[0];
  out.vertex = shape.vertex + shape.turn * change.segment<3>(1);
  const Vector3 turn = change.segment<3>(4);
  const double angle = turn.norm();
  if (angle > 0) out.turn = shape.turn * Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix();
  return out;
}

Quadric<double> own_quadric(ShapeKind kind, double size) {
  switch (kind) {
    case ShapeKind::paraboloid: return Paraboloid{size}.quadric();
    case ShapeKind::sphere: return SphereBowl{size}.quadric();
    case ShapeKind::trough: return Trough{size}.quadric();
    case ShapeKind::meant: break;  // it has none
  }
  return {};
}

double own_height(ShapeKind kind, double size, double x, double y) {
  if (kind == ShapeKind::trough) return x * x / (4 * size);
  const double r2 = x * x + y * y;
  if (kind == ShapeKind::paraboloid) return r2 / (4 * size);
  return r2 / (size + std::sqrt(std::max(0.0, size * size - r2)));
}

Eigen::Vector2d own_slope(ShapeKind kind, double size, double x, double y) {
  if (kind == ShapeKind::trough) return {x / (2 * size), 0};
  if (kind == ShapeKind::paraboloid) return Eigen::Vector2d(x, y) / (2 * size);
  const double under = std::max(1e-6 * size * size, size * size - x * x - y * y);
  return Eigen::Vector2d(x, y) / std::sqrt(under);
}

double own_height(const PlacedShape& shape, double x, double y) {
  return shape.kind == ShapeKind::meant ? meant_at(shape, x, y).height : own_height(shape.kind, shape.size, x, y);
}

Eigen::Vector2d own_slope(const PlacedShape& shape, double x, double y) {
  if (shape.kind != ShapeKind::meant) return own_slope(shape.kind, shape.size, x, y);
  const HeightAt at = meant_at(shape, x, y);
  return {at.slope_x, at.slope_y};
}

void meant_heights(const PlacedShape& shape, int n, const double* x, const double* y, double* h, double* slope_x,
                   double* slope_y) {
  const auto count = static_cast<std::size_t>(n);
  const double deeper = shape.meant->size / shape.size;
  const Vector3 up = shape.turn.row(2).transpose();  // the frame's z in own axes
  std::vector<Vector3> from(count);
  std::vector<double> u(count), v(count), own(count), along_u(count), along_v(count);
  for (std::size_t i = 0; i < count; ++i) from[i] = shape.to_own(Vector3(x[i], y[i], 0)), h[i] = -from[i].z() / up.z();
  // The crossing of a line along z: by Newton's method; designs lean by little.
  constexpr int most_steps = 4;
  const double near = 1e-13 * shape.meant->size;
  bool there = false;
  for (int k = 0; k <= most_steps; ++k) {
    for (std::size_t i = 0; i < count; ++i) u[i] = from[i].x() + h[i] * up.x(), v[i] = from[i].y() + h[i] * up.y();
    shape.meant->over(n, u.data(), v.data(), own.data(), along_u.data(), along_v.data());
    const bool last = there || k == most_steps;
    there = true;
    for (std::size_t i = 0; i < count; ++i) {
      const Vector3 normal(-deeper * along_u[i], -deeper * along_v[i], 1);
      if (!last) {
        const double step = (from[i].z() + h[i] * up.z() - deeper * own[i]) / normal.dot(up);
        h[i] -= step;
        there = there && std::abs(step) <= near;
        continue;
      }
      const Vector3 turned = shape.turn * normal;
      slope_x[i] = -turned.x() / turned.z(), slope_y[i] = -turned.y() / turned.z();
    }
    if (last) break;
  }
}

}  // namespace dishwright
