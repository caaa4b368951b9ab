// SPDX-License-Identifier: MIT
#include "survey/model.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

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

}  // namespace

std::string shape_kind_word(ShapeKind kind) {
  switch (kind) {
    case ShapeKind::paraboloid: return "paraboloid";
    case ShapeKind::sphere: return "sphere";
    case ShapeKind::trough: return "trough";
  }
  return "";
}

std::array<bool, fit_numbers> free_numbers(ShapeKind kind) {
  switch (kind) {
    case ShapeKind::paraboloid: return {true, true, true, true, true, true, false};
    case ShapeKind::sphere: return {true, true, true, true, false, false, false};
    case ShapeKind::trough: return {true, true, false, true, true, true, true};
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

}  // namespace dishwright
