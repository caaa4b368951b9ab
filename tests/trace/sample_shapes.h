// SPDX-License-Identifier: MIT
// One or more of every shape that is not a plain bowl, trough or plate, about 1.2 m wide with its light near z = 0.6.
#pragma once

#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include "scene/scene.h"
#include "shape/meshes/mesh_build.h"

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

/// z = r²/(4 f) + amplitude · cos(2π x / period), its rim anywhere: what a measured mirror might be, from its formula.
class WavyDish : public HeightSurface {
 public:
  WavyDish(double f, double amplitude, double period, double scale = 1)
      : f_(f * scale), amplitude_(amplitude * scale), wave_(2 * std::acos(-1.0) / (period * scale)) {}
  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override {
    for (int i = 0; i < n; ++i) {
      h[i] = height(x[i], y[i]);
      slope_x[i] = x[i] / (2 * f_) - amplitude_ * wave_ * std::sin(wave_ * x[i]);
      slope_y[i] = y[i] / (2 * f_);
    }
  }
  double height(double x, double y) const { return (x * x + y * y) / (4 * f_) + amplitude_ * std::cos(wave_ * x); }
  double focal_length() const { return f_; }
  /// Cut to a circle, or where length > 0 to a rectangle.
  Measured mirror(double width, double length, double hole_width, double middle_x = 0, double middle_y = 0) const {
    Measured made;
    made.surface = std::make_shared<const WavyDish>(*this);
    made.meets_at = Vector3(0, 0, f_);
    made.width = width, made.length = length, made.hole_width = hole_width;
    made.middle_x = middle_x, made.middle_y = middle_y;
    const double reach = std::hypot(std::abs(middle_x) + width / 2, std::abs(middle_y) + std::max(width, length) / 2);
    made.low = -amplitude_, made.high = reach * reach / (4 * f_) + amplitude_;
    return made;
  }

 private:
  double f_, amplitude_, wave_;
};

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
          {"pressed", Pressed{1.2, 0.12, 0.1}},
          {"measured, round", WavyDish(0.6, 2e-3, 0.5).mirror(1, 0, 0.1, 0.08, -0.12)},
          {"measured, rectangle", WavyDish(0.6, 2e-3, 0.5).mirror(0.9, 1.1, 0, -0.05, 0.1)},
          {"ellipsoid", Ellipsoid{0.8, 2.4, 1.2, 0.1}},
          {"smooth mesh", Mesh{sampled_mesh(0.6, 0.9, 12), true}},
          {"flat mesh", Mesh{sampled_mesh(0.6, 0.9, 12), false}}};
}

/// A hyperboloid or ellipsoid behind the focus of a paraboloid that looks at it along z: the light of a point sun gathers at the
/// far focus.
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
