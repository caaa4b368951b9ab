// SPDX-License-Identifier: MIT
// Meetings of a ray with the shapes, for the reference tracer only: quadratics solved in double, one surface at a time.
#pragma once

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "reference_tracer.h"

namespace dishwright::reference {

// ---- Meetings with one surface, in its own frame ----

// Real roots of a s² + 2 b s + c = 0, smaller first.
inline std::vector<double> roots(double a, double b, double c) {
  const double inside = b * b - a * c;
  if (inside < 0) return {};
  const double q = -(b + std::copysign(std::sqrt(inside), b));
  std::vector<double> found;
  if (a != 0) found.push_back(q / a);
  if (q != 0) found.push_back(c / q);
  std::sort(found.begin(), found.end());
  return found;
}

struct OwnHit {
  double distance;
  Vector3 point;
  Vector3 normal;  // mirror: of the bright side; target: outward of the counted face (not normalised)
  Side front, behind;
  const char* face;
};
using OwnHits = std::vector<OwnHit>;

// x² + y² = r² (about z) or x² + z² = r² (about y) are written with a diagonal: Σ d_i (p_i − centre_i)² + linear·p = constant.
inline std::vector<double> quadric_roots(const Ray& ray, const Vector3& diagonal, const Vector3& centre, const Vector3& linear,
                                         double constant) {
  const Vector3 p = ray.from - centre;
  const Vector3 dp = diagonal.cwiseProduct(p), dv = diagonal.cwiseProduct(ray.along);
  return roots(dv.dot(ray.along), dv.dot(p) + linear.dot(ray.along) / 2, dp.dot(p) + linear.dot(ray.from) - constant);
}

inline bool in_ring(const Vector3& p, double hole_width, double width) {
  const double r = std::hypot(p.x(), p.y());
  return r <= width / 2 && r >= hole_width / 2;
}

inline bool in_rectangle(const Vector3& p, double width, double length) {
  return std::abs(p.x()) <= width / 2 && std::abs(p.y()) <= length / 2;
}

struct Meet {
  const Ray& ray;
  OwnHits hits{};

  template <class Inside, class Normal>
  void add(const std::vector<double>& distances, Inside inside, Normal normal, Side front, Side behind, const char* face) {
    for (const double distance : distances) {
      const Vector3 point = ray.from + distance * ray.along;
      if (inside(point)) hits.push_back({distance, point, normal(point), front, behind, face});
    }
  }
  std::vector<double> plane(double z) const {
    if (ray.along.z() == 0) return {};
    return {(z - ray.from.z()) / ray.along.z()};
  }
  template <class Inside, class Normal>
  void mirror(const std::vector<double>& distances, Inside inside, Normal normal) {
    add(distances, inside, normal, Side::mirror, Side::mirror_back, "");
  }

  void operator()(const Paraboloid& s) {
    mirror(
        quadric_roots(ray, {1, 1, 0}, Vector3::Zero(), {0, 0, -4 * s.focal_length}, 0),
        [&](const Vector3& p) { return in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) { return Vector3(-p.x(), -p.y(), 2 * s.focal_length); });
  }
  void operator()(const SphereBowl& s) {
    mirror(
        quadric_roots(ray, {1, 1, 1}, {0, 0, s.radius}, Vector3::Zero(), s.radius * s.radius),
        [&](const Vector3& p) { return p.z() <= s.radius && in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) { return Vector3(-p.x(), -p.y(), s.radius - p.z()); });
  }
  void operator()(const Trough& s) {
    mirror(
        quadric_roots(ray, {1, 0, 0}, Vector3::Zero(), {0, 0, -4 * s.focal_length}, 0),
        [&](const Vector3& p) { return in_rectangle(p, s.width, s.length); },
        [&](const Vector3& p) { return Vector3(-p.x(), 0, 2 * s.focal_length); });
  }
  void operator()(const ArcTrough& s) {
    mirror(
        quadric_roots(ray, {1, 0, 1}, {0, 0, s.radius}, Vector3::Zero(), s.radius * s.radius),
        [&](const Vector3& p) { return p.z() <= s.radius && in_rectangle(p, s.width, s.length); },
        [&](const Vector3& p) { return Vector3(-p.x(), 0, s.radius - p.z()); });
  }
  void operator()(const Flat& s) {
    mirror(
        plane(0), [&](const Vector3& p) { return in_rectangle(p, s.width, s.length); },
        [](const Vector3&) { return Vector3(0, 0, 1); });
  }

  template <class Shape>
  void operator()(const Shape& /*s*/) {
    throw std::logic_error("the reference tracer does not know this shape");
  }

  void operator()(const DiskTarget& s) {
    add(
        plane(0), [&](const Vector3& p) { return in_ring(p, 0, s.width); }, [](const Vector3&) { return Vector3(0, 0, -1); },
        Side::counted, Side::back, "front");
  }
  void operator()(const RectangleTarget& s) {
    add(
        plane(0), [&](const Vector3& p) { return in_rectangle(p, s.width, s.length); },
        [](const Vector3&) { return Vector3(0, 0, -1); }, Side::counted, Side::back, "front");
  }
  void operator()(const TubeTarget& s) {
    add(
        quadric_roots(ray, {1, 0, 1}, Vector3::Zero(), Vector3::Zero(), s.width * s.width / 4),
        [&](const Vector3& p) { return std::abs(p.y()) <= s.length / 2; },
        [](const Vector3& p) { return Vector3(p.x(), 0, p.z()); }, Side::counted, Side::back, "all round");
  }
  void operator()(const BallTarget& s) {
    add(
        quadric_roots(ray, {1, 1, 1}, Vector3::Zero(), Vector3::Zero(), s.width * s.width / 4),
        [](const Vector3&) { return true; }, [](const Vector3& p) { return p; }, Side::counted, Side::back, "all round");
  }
  void operator()(const PotTarget& s) {
    add(
        quadric_roots(ray, {1, 1, 0}, Vector3::Zero(), Vector3::Zero(), s.width * s.width / 4),
        [&](const Vector3& p) { return p.z() >= 0 && p.z() <= s.height; },
        [](const Vector3& p) { return Vector3(p.x(), p.y(), 0); }, Side::counted, Side::back, "side");
    add(
        plane(0), [&](const Vector3& p) { return in_ring(p, 0, s.width); }, [](const Vector3&) { return Vector3(0, 0, -1); },
        Side::counted, Side::back, "base");
    add(
        plane(s.height), [&](const Vector3& p) { return in_ring(p, 0, s.width); },
        [](const Vector3&) { return Vector3(0, 0, 1); }, Side::lid, Side::back, "");
  }
};

// All meetings of a ray with one thing of the scene, in the frame.
template <class Shape>
std::vector<Hit> meetings(const Shape& shape, const Pose& pose, const std::string& name, const Ray& ray) {
  const Ray own{pose.turn.transpose() * (ray.from - pose.at), pose.turn.transpose() * ray.along};
  Meet meet{own};
  std::visit(meet, shape);
  std::vector<Hit> hits;
  for (const OwnHit& hit : meet.hits) {
    const bool from_front = hit.normal.dot(own.along) < 0;
    const Vector3 normal = pose.turn * hit.normal.normalized();
    hits.push_back({hit.distance, pose.turn * hit.point + pose.at, hit.point, from_front ? normal : Vector3(-normal),
                    from_front ? hit.front : hit.behind, name, from_front ? hit.face : ""});
  }
  return hits;
}

// A box in the own frame that holds the shape.
struct OwnBox {
  std::pair<Vector3, Vector3> operator()(const Paraboloid& s) const {
    return {{-s.width / 2, -s.width / 2, 0}, {s.width / 2, s.width / 2, s.width * s.width / (16 * s.focal_length)}};
  }
  std::pair<Vector3, Vector3> operator()(const SphereBowl& s) const {
    return {{-s.width / 2, -s.width / 2, 0}, {s.width / 2, s.width / 2, s.radius}};
  }
  std::pair<Vector3, Vector3> operator()(const Trough& s) const {
    return {{-s.width / 2, -s.length / 2, 0}, {s.width / 2, s.length / 2, s.width * s.width / (16 * s.focal_length)}};
  }
  std::pair<Vector3, Vector3> operator()(const ArcTrough& s) const {
    return {{-s.width / 2, -s.length / 2, 0}, {s.width / 2, s.length / 2, s.radius}};
  }
  std::pair<Vector3, Vector3> operator()(const Flat& s) const { return around(s.width, s.length, 0); }
  template <class Shape>
  std::pair<Vector3, Vector3> operator()(const Shape& /*s*/) const {
    throw std::logic_error("the reference tracer does not know this shape");
  }
  std::pair<Vector3, Vector3> operator()(const DiskTarget& s) const { return around(s.width, s.width, 0); }
  std::pair<Vector3, Vector3> operator()(const RectangleTarget& s) const { return around(s.width, s.length, 0); }
  std::pair<Vector3, Vector3> operator()(const TubeTarget& s) const { return around(s.width, s.length, s.width); }
  std::pair<Vector3, Vector3> operator()(const BallTarget& s) const { return around(s.width, s.width, s.width); }
  std::pair<Vector3, Vector3> operator()(const PotTarget& s) const {
    return {{-s.width / 2, -s.width / 2, 0}, {s.width / 2, s.width / 2, s.height}};
  }
  static std::pair<Vector3, Vector3> around(double x, double y, double z) {
    return {Vector3(-x, -y, -z) / 2, Vector3(x, y, z) / 2};
  }
};

}  // namespace dishwright::reference
