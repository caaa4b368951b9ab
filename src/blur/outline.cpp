// SPDX-License-Identifier: MIT
#include "blur/outline.h"

#include <cmath>
#include <numbers>

#include "scene/mirror_surface.h"

namespace dishwright {

namespace {

/// Shapes without patches (mirror_piece.h) need no outline.
template <typename Shape>
void set(Outline& /*out*/, const Shape& /*shape*/) {}
void set(Outline& out, const Paraboloid& s) {
  out.quadric = quadric_of(s);
  out.round = true;
  out.half_x = out.half_y = s.width / 2, out.hole = s.hole_width / 2;
}
void set(Outline& out, const SphereBowl& s) {
  out.quadric = quadric_of(s);
  out.round = true;
  out.half_x = out.half_y = s.width / 2, out.hole = s.hole_width / 2;
}
void set(Outline& out, const Trough& s) {
  out.quadric = quadric_of(s);
  out.half_x = s.width / 2, out.half_y = s.length / 2;
}
void set(Outline& out, const ArcTrough& s) {
  out.quadric = quadric_of(s);
  out.half_x = s.width / 2, out.half_y = s.length / 2;
}
void set(Outline& out, const Flat& s) {
  out.quadric = quadric_of(s);
  out.half_x = s.width / 2, out.half_y = s.length / 2;
}

}  // namespace

Outline::Outline(const ReflectorShape& shape) {
  std::visit([this](const auto& s) { set(*this, s); }, shape);
  top = height(Vector3(half_x, 0, 0));
}

double Outline::off_axis(const Vector3& own) const { return round ? std::hypot(own.x(), own.y()) : std::abs(own.x()); }

double Outline::height(const Vector3& own) const {
  return quadric.a == 0 ? 0 : bowl_height(quadric, own.x() * own.x() + quadric.b * own.y() * own.y());
}

bool Outline::over(const Vector3& own) const { return off_axis(own) <= half_x && (round || std::abs(own.y()) <= half_y); }

bool Outline::hides(const Vector3& own) const {
  const double slack = 1e-9 * half_x;
  if (own.z() >= top + slack) return false;
  if (off_axis(own) >= half_x) return own.z() < top - slack;  // the rim stands between
  return own.z() < height(own) + slack;
}

double Outline::silhouette(const Vector3& own_sun) const {
  if (round) return std::numbers::pi * (half_x * half_x - hole * hole) * own_sun.z();
  return 4 * half_x * half_y * own_sun.z();
}

bool Outline::blocks(const Vector3& own, const Vector3& direction) const {
  const RayEquation eq = ray_equation(quadric, own.x(), own.y(), own.z(), direction.x(), direction.y(), direction.z());
  const double inside = eq.b * eq.b - eq.a * eq.c;
  if (inside < 0) return false;
  const double step = -(eq.b + std::copysign(std::sqrt(inside), eq.b));
  for (const double t : {step / eq.a, eq.c / step}) {
    if (!std::isfinite(t) || t <= 1e-9) continue;
    const Vector3 meeting = own + t * direction;
    if (over(meeting) && meeting.z() <= top * (1 + 1e-9) + 1e-12 && (!round || off_axis(meeting) >= hole)) return true;
  }
  return false;
}

}  // namespace dishwright
