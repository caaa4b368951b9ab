// SPDX-License-Identifier: MIT
// Shapes enlarged, and shapes seen in a mirror.
#pragma once

#include <algorithm>
#include <memory>
#include <utility>
#include <vector>

#include "scene/scene.h"

namespace dishwright::test {

/// Rebuilt through changed points: x to stretch_x · x, z to k · z.
inline std::shared_ptr<const ProfileCurve> changed(const ProfileCurve& curve, double stretch_x, double k) {
  std::vector<double> places, heights;
  for (const ProfileCurve::Span& span : curve.spans()) places.push_back(span.from * stretch_x), heights.push_back(span.c0 * k);
  places.push_back(curve.rim() * stretch_x), heights.push_back(curve.height(curve.rim()) * k);
  if (stretch_x < 0) std::reverse(places.begin(), places.end()), std::reverse(heights.begin(), heights.end());
  return std::make_shared<const ProfileCurve>(places, heights, curve.kind(), curve.start() == 0);
}

/// Another surface, k times as large, x times `side` (1 or −1).
class SurfaceImage : public HeightSurface {
 public:
  SurfaceImage(std::shared_ptr<const HeightSurface> from, double k, double side) : from_(std::move(from)), k_(k), side_(side) {}
  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override {
    for (int i = 0; i < n; ++i) {
      const double u = side_ * x[i] / k_, v = y[i] / k_;
      from_->heights(1, &u, &v, h + i, slope_x + i, slope_y + i);
      h[i] *= k_, slope_x[i] *= side_;
    }
  }

 private:
  std::shared_ptr<const HeightSurface> from_;
  double k_, side_;
};

struct Scaled {
  double k;
  // clang-format off
  ReflectorShape operator()(const Paraboloid& s) const { return Paraboloid{s.focal_length * k, s.width * k, s.hole_width * k}; }
  ReflectorShape operator()(const SphereBowl& s) const { return SphereBowl{s.radius * k, s.width * k, s.hole_width * k}; }
  ReflectorShape operator()(const Trough& s) const { return Trough{s.focal_length * k, s.width * k, s.length * k}; }
  ReflectorShape operator()(const ArcTrough& s) const { return ArcTrough{s.radius * k, s.width * k, s.length * k}; }
  ReflectorShape operator()(const Flat& s) const { return Flat{s.width * k, s.length * k}; }
  ReflectorShape operator()(const Cone& s) const { return Cone{s.depth * k, s.width * k, s.hole_width * k}; }
  ReflectorShape operator()(const Catenary& s) const { return Catenary{s.width * k, s.depth * k, s.hole_width * k}; }
  ReflectorShape operator()(const Pressed& s) const { return Pressed{s.width * k, s.depth * k, s.hole_width * k}; }
  // clang-format on
  ReflectorShape operator()(const OffsetParaboloid& s) const {
    return OffsetParaboloid{s.focal_length * k, s.clearance * k, s.width * k, s.hole_width * k};
  }
  ReflectorShape operator()(Facets s) const {
    for (double* length : {&s.focal_length, &s.width, &s.hole_width, &s.tile, &s.gap}) *length *= k;
    s.aim_point *= k;
    return s;
  }
  ReflectorShape operator()(const Petals& s) const {
    return Petals{s.focal_length * k, s.width * k, s.count, s.seams_on_curve, s.hole_width * k};
  }
  ReflectorShape operator()(const Profile& s) const {
    return Profile{changed(*s.curve, k, k), s.trough, s.length * k, s.width * k, s.hole_width * k};
  }
  ReflectorShape operator()(const Hyperboloid& s) const {
    return Hyperboloid{s.near_focus * k, s.far_focus * k, s.width * k, s.hole_width * k};
  }
  ReflectorShape operator()(const Ellipsoid& s) const {
    return Ellipsoid{s.near_focus * k, s.far_focus * k, s.width * k, s.hole_width * k};
  }
  ReflectorShape operator()(const Mesh& s) const {
    TriangleMesh mesh = *s.mesh;
    for (Vector3& vertex : mesh.vertices) vertex *= k;
    mesh.low *= k, mesh.high *= k;
    return Mesh{std::make_shared<const TriangleMesh>(std::move(mesh)), s.smooth};
  }
  ReflectorShape operator()(Measured s) const {
    for (double* length : {&s.low, &s.high, &s.middle_x, &s.middle_y, &s.width, &s.length, &s.hole_width, &s.spacing})
      *length *= k;
    s.meets_at *= k;
    s.surface = std::make_shared<const SurfaceImage>(s.surface, k, 1);
    return s;
  }
  TargetShape operator()(const DiskTarget& s) const { return DiskTarget{s.width * k}; }
  TargetShape operator()(const RectangleTarget& s) const { return RectangleTarget{s.width * k, s.length * k}; }
  TargetShape operator()(const TubeTarget& s) const { return TubeTarget{s.width * k, s.length * k}; }
  TargetShape operator()(const BallTarget& s) const { return BallTarget{s.width * k}; }
  TargetShape operator()(const PotTarget& s) const { return PotTarget{s.width * k, s.height * k}; }
  TargetShape operator()(const PointTarget& s) const { return s; }
};

template <class Shape>
Shape scaled(const Shape& shape, double k) {
  return std::visit(Scaled{k}, shape);
}

/// x to −x. All shapes but these are their own mirror images (petals after half a turn if their number is odd).
inline ReflectorShape mirror_image(const ReflectorShape& shape) {
  if (const auto* tiles = std::get_if<Facets>(&shape)) {
    Facets image = *tiles;
    image.aim_point.x() *= -1;
    return image;
  }
  if (const auto* profile = std::get_if<Profile>(&shape); profile != nullptr && profile->trough) {
    Profile image = *profile;
    image.curve = changed(*profile->curve, -1, 1);
    return image;
  }
  if (const auto* surface = std::get_if<Mesh>(&shape)) {
    TriangleMesh image = *surface->mesh;
    for (Vector3& vertex : image.vertices) vertex.x() *= -1;
    for (Vector3& normal : image.normals) normal.x() *= -1;
    for (auto& corner : image.triangles) std::swap(corner[0], corner[1]);
    std::swap(image.low.x(), image.high.x());
    image.low.x() *= -1, image.high.x() *= -1;
    return Mesh{std::make_shared<const TriangleMesh>(std::move(image)), surface->smooth};
  }
  if (const auto* measured = std::get_if<Measured>(&shape)) {
    Measured image = *measured;
    image.middle_x *= -1, image.meets_at.x() *= -1;
    image.surface = std::make_shared<const SurfaceImage>(measured->surface, 1, -1);
    return image;
  }
  return shape;
}

}  // namespace dishwright::test
