// SPDX-License-Identifier: MIT
#include "shape/target_face.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

/// The axis of a wall: 1 = y, 2 = z.
int wall_axis(FaceForm form) { return form == FaceForm::lying ? 1 : 2; }

/// Factor that brings (x, y) onto a circle of this radius; 0 for its middle.
double onto_circle(double x, double y, double radius) {
  const double r = std::hypot(x, y);
  return r > 0 ? radius / r : 0.0;
}

/// Factor that brings (x, y) into a circle of this radius.
double into_circle(double x, double y, double radius) {
  const double r = std::hypot(x, y);
  return r > radius ? radius / r : 1.0;
}

bool meets_wall(const TargetFace& wall, const Vector3& p, const Vector3& d) {
  const int along = wall_axis(wall.form), other = along == 2 ? 1 : 2, first = 0;
  const double a = d[first] * d[first] + d[other] * d[other], b = p[first] * d[first] + p[other] * d[other];
  const double c = p[first] * p[first] + p[other] * p[other] - wall.radius * wall.radius, root = b * b - a * c;
  if (!(a > 0) || root < 0) return false;
  for (const double sign : {-1.0, 1.0}) {
    const double t = (-b + sign * std::sqrt(root)) / a, height = p[along] + t * d[along];
    if (t > 0 && height >= wall.from && height <= wall.to) return true;
  }
  return false;
}

}  // namespace

double TargetFace::area() const {
  switch (form) {
    case FaceForm::disc: return pi / 4 * (2 * radius) * (2 * radius);
    case FaceForm::rectangle: return 2 * half_x * (2 * half_y);
    case FaceForm::upright:
    case FaceForm::lying: return pi * (2 * radius) * (to - from);
    case FaceForm::ball: break;
  }
  return pi * (2 * radius) * (2 * radius);
}

double TargetFace::widest_disc() const {
  switch (form) {
    case FaceForm::rectangle: return 2 * std::min(half_x, half_y);
    case FaceForm::upright:
    case FaceForm::lying: return std::min(2 * radius, to - from);
    default: return 2 * radius;
  }
}

TargetFace::Point TargetFace::point(double a, double b) const {
  const double c = std::cos(2 * pi * a), s = std::sin(2 * pi * a);
  switch (form) {
    case FaceForm::lying: return {Vector3(radius * c, from + b * (to - from), radius * s), Vector3(c, 0, s)};
    case FaceForm::upright: return {Vector3(radius * c, radius * s, from + b * (to - from)), Vector3(c, s, 0)};
    case FaceForm::ball: {
      const double z = 2 * b - 1, r = std::sqrt(std::max(0.0, 1 - z * z));
      const Vector3 normal(r * c, r * s, z);
      return {radius * normal, normal};
    }
    case FaceForm::rectangle: return {Vector3((2 * a - 1) * half_x, (2 * b - 1) * half_y, height), faces_up * Vector3::UnitZ()};
    case FaceForm::disc: break;
  }
  const double r = radius * std::sqrt(b);
  return {Vector3(r * c, r * s, height), faces_up * Vector3::UnitZ()};
}

Vector3 TargetFace::nearest(const Vector3& p) const {
  switch (form) {
    case FaceForm::lying: {
      const double scale = onto_circle(p.x(), p.z(), radius);
      return {p.x() * scale, p.y(), p.z() * scale};
    }
    case FaceForm::upright: {
      const double scale = onto_circle(p.x(), p.y(), radius);
      return {p.x() * scale, p.y() * scale, p.z()};
    }
    case FaceForm::ball: return p.norm() > 0 ? Vector3(p * (radius / p.norm())) : p;
    default: return {p.x(), p.y(), height};
  }
}

bool TargetFace::holds(const Vector3& p) const {
  switch (form) {
    case FaceForm::disc: return p.head<2>().norm() <= radius;
    case FaceForm::rectangle: return std::abs(p.x()) <= half_x && std::abs(p.y()) <= half_y;
    case FaceForm::upright: return p.z() >= from && p.z() <= to;
    case FaceForm::lying: return p.y() >= from && p.y() <= to;
    case FaceForm::ball: break;
  }
  return true;
}

bool TargetFace::meets(const Vector3& p, const Vector3& along) const {
  if (form == FaceForm::ball) return p.dot(along) < 0 && p.cross(along).norm() <= along.norm() * radius;
  if (!flat()) return meets_wall(*this, p, along);
  const double t = (height - p.z()) / along.z();
  return t > 0 && holds(p + t * along);
}

Quadric<double> TargetFace::quadric() const {
  switch (form) {
    case FaceForm::upright: return {1, 1, 0, 0, -radius * radius};
    case FaceForm::lying: return {1, 0, 1, 0, -radius * radius};
    case FaceForm::ball: return {1, 1, 1, 0, -radius * radius};
    default: return {0, 0, 0, -0.5 * faces_up, -faces_up * height};
  }
}

Region<double> TargetFace::region() const {
  Region<double> region;
  if (form == FaceForm::disc) region.r2_to = radius * radius;
  if (form == FaceForm::rectangle) region.x_half = half_x, region.y_half = half_y;
  if (form == FaceForm::upright) region.z_from = from, region.z_to = to;
  if (form == FaceForm::lying) region.y_half = (to - from) / 2;
  return region;
}

SpaceBox TargetFace::box() const {
  switch (form) {
    case FaceForm::disc: return {Vector3(-radius, -radius, height), Vector3(radius, radius, height)};
    case FaceForm::rectangle: return {Vector3(-half_x, -half_y, height), Vector3(half_x, half_y, height)};
    case FaceForm::upright: return {Vector3(-radius, -radius, from), Vector3(radius, radius, to)};
    case FaceForm::lying: return {Vector3(-radius, from, -radius), Vector3(radius, to, radius)};
    case FaceForm::ball: break;
  }
  return {Vector3::Constant(-radius), Vector3::Constant(radius)};
}

const TargetFace* TargetBody::spot_face() const {
  const auto found = std::find_if(faces_.begin(), faces_.end(),
                                  [](const TargetFace& one) { return one.counts && one.flat() && one.height == 0; });
  return found == faces_.end() ? nullptr : &*found;
}

double TargetBody::area() const {
  double area = 0;
  // From the last to the first: a pot's base, then its side.
  for (auto face = faces_.rbegin(); face != faces_.rend(); ++face) area += face->counts ? face->area() : 0;
  return area;
}

double TargetBody::smallest_width() const { return is_point() ? 0 : faces_[0].widest_disc(); }

double TargetBody::shadow_edge() const {
  if (is_point()) return 0;
  const TargetFace& face = faces_[0];
  switch (face.form) {
    case FaceForm::rectangle: return 2 * (2 * face.half_x + 2 * face.half_y);
    case FaceForm::lying: return 2 * (2 * face.radius + (face.to - face.from));
    case FaceForm::upright: return pi * (2 * face.radius) + 2 * (face.to - face.from);
    default: return pi * (2 * face.radius);
  }
}

SpaceBox TargetBody::box() const { return is_point() ? SpaceBox() : faces_[0].box(); }

double TargetBody::depth_inside(const Vector3& p) const {
  if (!is_point()) {
    const TargetFace& wall = faces_[0];
    if (wall.form == FaceForm::ball) return wall.radius - p.norm();
    if (wall.form == FaceForm::lying)
      return std::min({wall.radius - std::hypot(p.x(), p.z()), p.y() - wall.from, wall.to - p.y()});
    if (wall.form == FaceForm::upright) return std::min({wall.radius - p.head<2>().norm(), p.z() - wall.from, wall.to - p.z()});
  }
  return -std::numeric_limits<double>::infinity();
}

Vector3 TargetBody::nearest(const Vector3& p) const {
  if (is_point()) return Vector3::Zero();
  const TargetFace& face = faces_[0];
  switch (face.form) {
    case FaceForm::ball: return p * std::min(1.0, face.radius / std::max(p.norm(), 1e-300));
    case FaceForm::rectangle:
      return {std::clamp(p.x(), -face.half_x, face.half_x), std::clamp(p.y(), -face.half_y, face.half_y), face.height};
    case FaceForm::lying: {
      const double scale = into_circle(p.x(), p.z(), face.radius);
      return {p.x() * scale, std::clamp(p.y(), face.from, face.to), p.z() * scale};
    }
    default: break;
  }
  const double scale = into_circle(p.x(), p.y(), face.radius);
  return {p.x() * scale, p.y() * scale, face.form == FaceForm::upright ? std::clamp(p.z(), face.from, face.to) : face.height};
}

bool TargetBody::meets(const Vector3& p, const Vector3& along) const {
  return std::any_of(faces_.begin(), faces_.end(), [&](const TargetFace& face) { return face.meets(p, along); });
}

std::vector<std::pair<Vector3, Vector3>> TargetBody::lines() const {
  constexpr int parts = 48;
  std::vector<std::pair<Vector3, Vector3>> lines;
  if (is_point()) return lines;
  const TargetFace& face = faces_[0];
  const auto add = [&](const Vector3& a, const Vector3& b) { lines.emplace_back(a, b); };
  if (face.form == FaceForm::rectangle) {
    for (int k = 0; k <= parts; ++k) {
      const double x = face.half_x, y = face.half_y, share = 2.0 * k / parts - 1;
      add({-x, share * y, face.height}, {x, share * y, face.height}),
          add({share * x, -y, face.height}, {share * x, y, face.height});
    }
    return lines;
  }
  const double r = face.radius;
  for (int k = 0; k < parts; ++k) {
    const double a = pi * k / parts, c = r * std::cos(a), s = r * std::sin(a);
    if (face.form == FaceForm::lying) {
      add({c, face.from, s}, {c, face.to, s}), add({-c, face.from, -s}, {-c, face.to, -s});
      for (const double end : {face.from, face.to}) add({c, end, s}, {-c, end, -s});
    } else if (face.form == FaceForm::upright) {
      for (const double end : {face.from, face.to}) add({c, s, end}, {-c, -s, end});
      add({c, s, face.from}, {c, s, face.to}), add({-c, -s, face.from}, {-c, -s, face.to});
    } else {
      add({c, s, face.height}, {-c, -s, face.height});
    }
  }
  return lines;
}

}  // namespace dishwright
