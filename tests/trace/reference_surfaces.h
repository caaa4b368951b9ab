// SPDX-License-Identifier: MIT
// Meetings of a ray with the shapes, for the reference tracer only: quadratics solved in double, heights by walking and halving,
// tiles and triangles one after the other.
#pragma once

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "reference_steps.h"
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

  // r = z/k above the tip.
  void operator()(const Cone& s) {
    const double k = s.depth / (s.width / 2);
    mirror(
        quadric_roots(ray, {k * k, k * k, -1}, Vector3::Zero(), Vector3::Zero(), 0),
        [&](const Vector3& p) { return p.z() >= 0 && in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) { return Vector3(-k * k * p.x(), -k * k * p.y(), p.z()); });
  }
  void operator()(const OffsetParaboloid& s) {
    const Vector3 middle(0, s.clearance + s.width / 2, 0);
    mirror(
        quadric_roots(ray, {1, 1, 0}, Vector3::Zero(), {0, 0, -4 * s.focal_length}, 0),
        [&](const Vector3& p) { return in_ring(p - middle, s.hole_width, s.width); },
        [&](const Vector3& p) { return Vector3(-p.x(), -p.y(), 2 * s.focal_length); });
  }
  // Centre form: half axes a = (near + far)/2 along z and b = √(near · far) across; centre at a.
  void operator()(const Ellipsoid& s) {
    const double a = (s.near_focus + s.far_focus) / 2, b2 = s.near_focus * s.far_focus;
    mirror(
        quadric_roots(ray, {1 / b2, 1 / b2, 1 / (a * a)}, {0, 0, a}, Vector3::Zero(), 1),
        [&](const Vector3& p) { return p.z() <= a && in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) { return Vector3(-p.x() / b2, -p.y() / b2, (a - p.z()) / (a * a)); });
  }
  // a = (far − near)/2, b² = near · far; centre at −a; the sheet with z >= 0.
  void operator()(const Hyperboloid& s) {
    const double a = (s.far_focus - s.near_focus) / 2, b2 = s.near_focus * s.far_focus;
    mirror(
        quadric_roots(ray, {-1 / b2, -1 / b2, 1 / (a * a)}, {0, 0, -a}, Vector3::Zero(), 1),
        [&](const Vector3& p) { return p.z() >= -a && in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) { return Vector3(p.x() / b2, p.y() / b2, -(p.z() + a) / (a * a)); });
  }
  // Each petal its own parabolic cylinder, in axes turned to its middle line.
  void operator()(const Petals& s) {
    const double half = std::acos(-1.0) / s.count, seam = s.seams_on_curve ? std::cos(half) : 1;
    const double k = 1 / (4 * s.focal_length * seam * seam);  // seams on the curve: at the radius r the middle line's u is r cos
    for (int petal = 0; petal < s.count; ++petal) {
      const Matrix3 turn = Eigen::AngleAxisd(2 * half * petal, Vector3::UnitZ()).toRotationMatrix();
      const Ray own{turn.transpose() * ray.from, turn.transpose() * ray.along};
      for (const double distance : quadric_roots(own, {k, 0, 0}, Vector3::Zero(), {0, 0, -1}, 0)) {
        const Vector3 p = own.from + distance * own.along;
        if (p.x() <= 0 || std::abs(std::atan2(p.y(), p.x())) > half || !in_ring(p, s.hole_width, s.width)) continue;
        hits.push_back({distance, turn * p, turn * Vector3(-2 * k * p.x(), 0, 1), Side::mirror, Side::mirror_back, ""});
      }
    }
  }
  void operator()(const Facets& s) {
    for (const Tile& tile : layout_of(s)) {
      const Vector3 normal = tile.turn.col(2);
      const double distance = (tile.centre - ray.from).dot(normal) / ray.along.dot(normal);
      const Vector3 point = ray.from + distance * ray.along, off = tile.centre - point;
      if (!on_tile(s, off.dot(tile.turn.col(0)), off.dot(tile.turn.col(1)))) continue;
      hits.push_back({distance, point, normal, Side::mirror, Side::mirror_back, ""});
    }
  }
  void operator()(const Profile& s) {
    const ProfileCurve& curve = *s.curve;
    if (s.trough) {
      walk(
          {s.width / 2, s.length / 2, curve.lowest(), curve.highest()}, [&](double x, double) { return curve.height(x); },
          [&](const Vector3& p) { return in_rectangle(p, s.width, s.length); },
          [&](const Vector3& p) { return Vector3(-curve.slope(p.x()), 0, 1); });
      return;
    }
    walk(
        {s.width / 2, s.width / 2, curve.lowest(), curve.highest()},
        [&](double x, double y) { return curve.height(std::hypot(x, y)); },
        [&](const Vector3& p) { return in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) { return revolved(p, curve.slope(std::hypot(p.x(), p.y()))); });
  }
  // a from a (cosh(R/a) − 1) = depth by halving.
  void operator()(const Catenary& s) {
    const double a = chain_parameter(s.width / 2, s.depth);
    walk(
        {s.width / 2, s.width / 2, 0, s.depth}, [&](double x, double y) { return a * (std::cosh(std::hypot(x, y) / a) - 1); },
        [&](const Vector3& p) { return in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) { return revolved(p, std::sinh(std::hypot(p.x(), p.y()) / a)); });
  }
  // As the height tells it; the slope by differences of it.
  void operator()(const Pressed& s) {
    const double rim = s.width / 2;
    const auto height = [&](double r) { return s.depth * (1 - std::pow(1 - r * r / (rim * rim), 2)); };
    walk(
        {rim, rim, 0, s.depth}, [&](double x, double y) { return height(std::hypot(x, y)); },
        [&](const Vector3& p) { return in_ring(p, s.hole_width, s.width); },
        [&](const Vector3& p) {
          const double r = std::hypot(p.x(), p.y()), step = 1e-5 * rim;
          return revolved(p, (height(r + step) - height(r - step)) / (2 * step));
        });
  }
  // One place at a time.
  void operator()(const Measured& s) {
    const Vector3 middle(s.middle_x, s.middle_y, 0);
    const auto look = [&](double x, double y) {
      Vector3 out;
      s.surface->heights(1, &x, &y, &out.x(), &out.y(), &out.z());  // height and slopes
      return out;
    };
    walk(
        {s.width / 2 + std::abs(s.middle_x), (s.length > 0 ? s.length : s.width) / 2 + std::abs(s.middle_y), s.low, s.high},
        [&](double x, double y) { return look(x, y).x(); },
        [&](const Vector3& p) {
          return s.length > 0 ? in_rectangle(p - middle, s.width, s.length) : in_ring(p - middle, s.hole_width, s.width);
        },
        [&](const Vector3& p) { return Vector3(-look(p.x(), p.y()).y(), -look(p.x(), p.y()).z(), 1); });
  }
  // Every triangle; the weights of its corners by Cramer's rule.
  void operator()(const Mesh& s) {
    const TriangleMesh& mesh = *s.mesh;
    for (const auto& corner : mesh.triangles) {
      const Vector3 &a = mesh.vertices[corner[0]], &b = mesh.vertices[corner[1]], &c = mesh.vertices[corner[2]];
      const Vector3 p = a - b, q = a - c, w = a - ray.from;
      const double whole = p.dot(q.cross(ray.along));
      const double share_b = w.dot(q.cross(ray.along)) / whole, share_c = p.dot(w.cross(ray.along)) / whole;
      if (!(share_b >= 0 && share_c >= 0 && share_b + share_c <= 1)) continue;
      const double distance = p.dot(q.cross(w)) / whole;
      const Vector3 smooth = (1 - share_b - share_c) * mesh.normals[corner[0]] + share_b * mesh.normals[corner[1]] +
                             share_c * mesh.normals[corner[2]];
      const Vector3 point = ray.from + distance * ray.along;
      hits.push_back({distance, point, s.smooth ? smooth : Vector3(p.cross(q)), Side::mirror, Side::mirror_back, ""});
    }
  }

  static Vector3 revolved(const Vector3& p, double slope) {
    const double r = std::hypot(p.x(), p.y());
    return r > 0 ? Vector3(-slope * p.x() / r, -slope * p.y() / r, 1) : Vector3(0, 0, 1);
  }
  template <class Height, class Inside, class Normal>
  void walk(const WalkBox& box, Height height, Inside inside, Normal normal) {
    mirror(height_crossings(ray.from, ray.along, box, height), inside, normal);
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
  void operator()(const PointTarget&) {}  // no body
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
  std::pair<Vector3, Vector3> operator()(const Cone& s) const { return bowl(s.width, s.depth); }
  std::pair<Vector3, Vector3> operator()(const OffsetParaboloid& s) const {
    const double far_edge = std::max(std::abs(s.clearance), s.clearance + s.width);
    return {{-s.width / 2, s.clearance, 0}, {s.width / 2, s.clearance + s.width, far_edge * far_edge / (4 * s.focal_length)}};
  }
  std::pair<Vector3, Vector3> operator()(const Ellipsoid& s) const { return bowl(s.width, (s.near_focus + s.far_focus) / 2); }
  // z + a = a √(1 + r²/b²) at the rim.
  std::pair<Vector3, Vector3> operator()(const Hyperboloid& s) const {
    const double a = (s.far_focus - s.near_focus) / 2, b2 = s.near_focus * s.far_focus;
    return bowl(s.width, a * (std::sqrt(1 + s.width * s.width / 4 / b2) - 1));
  }
  std::pair<Vector3, Vector3> operator()(const Petals& s) const {
    const double seam = s.seams_on_curve ? std::cos(std::acos(-1.0) / s.count) : 1;
    return bowl(s.width, s.width * s.width / (16 * s.focal_length * seam * seam));
  }
  std::pair<Vector3, Vector3> operator()(const Facets& s) const {
    Vector3 low = Vector3::Constant(1e300), high = Vector3::Constant(-1e300);
    for (const Tile& tile : layout_of(s)) {
      low = low.cwiseMin(tile.centre - Vector3::Constant(s.tile));
      high = high.cwiseMax(tile.centre + Vector3::Constant(s.tile));
    }
    return {low, high};
  }
  std::pair<Vector3, Vector3> operator()(const Profile& s) const {
    const double y = (s.trough ? s.length : s.width) / 2;
    return {{-s.width / 2, -y, s.curve->lowest()}, {s.width / 2, y, s.curve->highest()}};
  }
  std::pair<Vector3, Vector3> operator()(const Catenary& s) const { return bowl(s.width, s.depth); }
  std::pair<Vector3, Vector3> operator()(const Pressed& s) const { return bowl(s.width, s.depth); }
  std::pair<Vector3, Vector3> operator()(const Measured& s) const {
    const double x = s.width / 2, y = (s.length > 0 ? s.length : s.width) / 2;
    return {{s.middle_x - x, s.middle_y - y, s.low}, {s.middle_x + x, s.middle_y + y, s.high}};
  }
  std::pair<Vector3, Vector3> operator()(const Mesh& s) const {
    Vector3 low = Vector3::Constant(1e300), high = Vector3::Constant(-1e300);
    for (const Vector3& vertex : s.mesh->vertices) low = low.cwiseMin(vertex), high = high.cwiseMax(vertex);
    return {low, high};
  }
  static std::pair<Vector3, Vector3> bowl(double width, double height) {
    return {{-width / 2, -width / 2, 0}, {width / 2, width / 2, height}};
  }
  std::pair<Vector3, Vector3> operator()(const DiskTarget& s) const { return around(s.width, s.width, 0); }
  std::pair<Vector3, Vector3> operator()(const RectangleTarget& s) const { return around(s.width, s.length, 0); }
  std::pair<Vector3, Vector3> operator()(const TubeTarget& s) const { return around(s.width, s.length, s.width); }
  std::pair<Vector3, Vector3> operator()(const BallTarget& s) const { return around(s.width, s.width, s.width); }
  std::pair<Vector3, Vector3> operator()(const PointTarget&) const { return {Vector3::Zero(), Vector3::Zero()}; }
  std::pair<Vector3, Vector3> operator()(const PotTarget& s) const {
    return {{-s.width / 2, -s.width / 2, 0}, {s.width / 2, s.width / 2, s.height}};
  }
  static std::pair<Vector3, Vector3> around(double x, double y, double z) {
    return {Vector3(-x, -y, -z) / 2, Vector3(x, y, z) / 2};
  }
};

}  // namespace dishwright::reference
