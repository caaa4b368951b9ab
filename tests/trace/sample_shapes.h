// SPDX-License-Identifier: MIT
// One or more of every shape that is not a plain bowl, trough or plate, about 1.2 m wide with its light near z = 0.6.
#pragma once

#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "shape/mesh_build.h"

namespace dishwright::test {

struct SampleShape {
  std::string name;
  ReflectorShape shape;
};

/// The parabola of focal length f, sampled at n + 1 places from `from` to `to`, with a wave of the given height on it.
inline std::shared_ptr<const ProfileCurve> sampled_curve(double f, double from, double to, int n, CurveKind kind,
                                                         double wave = 0) {
  std::vector<double> places, heights;
  for (int i = 0; i <= n; ++i) {
    places.push_back(from + (to - from) * i / n);
    heights.push_back(places.back() * places.back() / (4 * f) + wave * std::cos(20 * places.back()));
  }
  return std::make_shared<const ProfileCurve>(places, heights, kind, from == 0);
}

/// z = r²/(4f) over a square of the given width, n × n cells of two triangles each, bright side up.
inline std::shared_ptr<const TriangleMesh> sampled_mesh(double f, double width, int n) {
  LooseTriangles loose;
  for (int j = 0; j <= n; ++j) {
    for (int i = 0; i <= n; ++i) {
      const double x = width * (static_cast<double>(i) / n - 0.5), y = width * (static_cast<double>(j) / n - 0.5);
      loose.vertices.emplace_back(x, y, (x * x + y * y) / (4 * f));
    }
  }
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      const auto at = [n](int column, int row) { return static_cast<std::uint32_t>(row * (n + 1) + column); };
      loose.triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
      loose.triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  }
  return std::make_shared<const TriangleMesh>(build_mesh(std::move(loose), 1).mesh);
}

inline Facets sample_facets(FacetFrame frame, TileShape tile, bool aimed) {
  Facets made;
  made.frame = frame;
  made.focal_length = 0.6;
  made.width = 1.1;
  made.hole_width = 0.2;
  made.tile = 0.1;
  made.gap = frame == FacetFrame::flat ? 0.01 : 0.003;
  made.tile_shape = tile;
  made.aim_at_target = aimed;
  made.aim_point = Vector3(0.02, -0.01, 0.6);
  return made;
}

inline std::vector<SampleShape> sample_shapes() {
  return {{"cone", Cone{0.2, 1.2, 0.1}},
          {"offset paraboloid", OffsetParaboloid{0.6, 0.05, 1, 0.1}},
          {"offset paraboloid over its vertex", OffsetParaboloid{0.6, -0.2, 1, 0}},
          {"square tiles", sample_facets(FacetFrame::paraboloid, TileShape::square, false)},
          {"hexagon tiles", sample_facets(FacetFrame::sphere, TileShape::hexagon, false)},
          {"round tiles", sample_facets(FacetFrame::flat, TileShape::round, true)},
          {"petals off the curve", Petals{0.6, 1.2, 8, false, 0.1}},
          {"petals on the curve", Petals{0.6, 1.2, 7, true, 0}},
          {"fair profile", Profile{sampled_curve(0.6, 0, 0.6, 12, CurveKind::fair, 1e-3), false, 0, 1.2, 0}},
          {"straight profile", Profile{sampled_curve(0.6, 0.05, 0.6, 11, CurveKind::straight), false, 0, 1.2, 0.1}},
          {"profile trough", Profile{sampled_curve(0.6, -0.6, 0.6, 20, CurveKind::fair, 1e-3), true, 0.9, 1.2, 0}},
          {"catenary", Catenary{1.2, 0.17, 0.1}},
          {"ellipsoid", Ellipsoid{0.8, 2.4, 1.2, 0.1}},
          {"smooth mesh", Mesh{sampled_mesh(0.6, 0.9, 12), true}},
          {"flat mesh", Mesh{sampled_mesh(0.6, 0.9, 12), false}}};
}

/// A hyperboloid or ellipsoid behind the focus of a paraboloid that looks at it along z: the light of a point sun gathers at the far focus.
struct TwoMirrors {
  ReflectorShape second;
  Pose pose;
  Vector3 far_focus;
};

/// Hyperboloid before the focus of a dish of focal length f.
inline TwoMirrors convex_second(double f) {
  const double near_focus = 0.15, far_focus = 0.55;
  TwoMirrors made{Hyperboloid{near_focus, far_focus, 0.32, 0}, {}, Vector3(0, 0, f - near_focus - far_focus)};
  made.pose.at = Vector3(0, 0, f - near_focus);
  return made;
}

/// Ellipsoid beyond the focus, its bright side down.
inline TwoMirrors concave_second(double f) {
  const double near_focus = 0.15, far_focus = 0.7;
  TwoMirrors made{Ellipsoid{near_focus, far_focus, 0.36, 0}, {}, Vector3(0, 0, f + near_focus - far_focus)};
  made.pose.at = Vector3(0, 0, f + near_focus);
  made.pose.turn = Eigen::DiagonalMatrix<double, 3>(1, -1, -1);
  return made;
}

}  // namespace dishwright::test
