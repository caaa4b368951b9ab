// SPDX-License-Identifier: MIT
#include "shape/mirror_patch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

constexpr double turn = 2 * std::numbers::pi;

}  // namespace

MirrorPoint point_over(const HeightSurface& surface, double x, double y, double plan_area) {
  double height = 0, slope_x = 0, slope_y = 0;
  surface.heights(1, &x, &y, &height, &slope_x, &slope_y);
  const Vector3 steep(-slope_x, -slope_y, 1);
  return {{x, y, height}, steep.normalized(), plan_area * steep.norm()};
}

MirrorPatch height_patch(std::shared_ptr<const HeightSurface> surface, const PlanOutline& plan, bool may_wave) {
  MirrorPatch patch;
  patch.closed = plan.round;
  patch.heights = may_wave;
  patch.at = [surface = std::move(surface), plan](double u, double v) {
    double x = plan.x_from + (plan.x_to - plan.x_from) * u, y = plan.y_from + (plan.y_to - plan.y_from) * v;
    double area = (plan.x_to - plan.x_from) * (plan.y_to - plan.y_from);
    if (plan.round) {
      const double rho = plan.inner + (plan.outer - plan.inner) * u;
      x = plan.x_middle + rho * std::cos(turn * v), y = plan.y_middle + rho * std::sin(turn * v);
      area = turn * rho * (plan.outer - plan.inner);
    }
    return point_over(*surface, x, y, area);
  };
  return patch;
}

Curve parabola_curve(double focal_length, double from, double to) {
  return curve_of(from, to, [f = focal_length](double x) { return std::pair(x * x / (4 * f), x / (2 * f)); });
}

Curve circle_curve(double radius, double from, double to) {
  const double low = std::asin(std::clamp(from / radius, -1.0, 1.0)), high = std::asin(std::clamp(to / radius, -1.0, 1.0));
  return [=](double u) {
    const double angle = low + (high - low) * u, s = std::sin(angle), half = std::sin(angle / 2);
    return MirrorPoint{{radius * s, 0, 2 * radius * half * half}, {-s, 0, std::cos(angle)}, radius * (high - low)};
  };
}

Patches turned(const Curve& curve) {
  MirrorPatch patch;
  patch.closed = true;
  patch.at = [curve](double u, double v) {
    const MirrorPoint p = curve(u);
    const double c = std::cos(turn * v), s = std::sin(turn * v), r = p.place.x();
    return MirrorPoint{{r * c, r * s, p.place.z()}, {p.normal.x() * c, p.normal.x() * s, p.normal.z()}, turn * r * p.area};
  };
  return {patch};
}

Patches drawn_out(const Curve& curve, double length) {
  MirrorPatch patch;
  patch.drawn = true;
  patch.at = [curve, length](double u, double v) {
    MirrorPoint p = curve(u);
    p.place.y() = length * (v - 0.5);
    p.area *= length;
    return p;
  };
  return {patch};
}

MirrorPatch parallelogram(const Vector3& corner, const Vector3& first, const Vector3& second) {
  MirrorPatch patch;
  const Vector3 across = first.cross(second);
  patch.at = [=, normal = Vector3(across.normalized()), area = across.norm()](double u, double v) {
    return MirrorPoint{corner + u * first + v * second, normal, area};
  };
  return patch;
}

MirrorPatch moved(MirrorPatch own, const Matrix3& turn_by, const Vector3& at) {
  MirrorPatch patch = own;
  patch.at = [own_at = std::move(own.at), turn_by, at](double u, double v) {
    const MirrorPoint p = own_at(u, v);
    return MirrorPoint{turn_by * p.place + at, turn_by * p.normal, p.area};
  };
  return patch;
}

}  // namespace dishwright
