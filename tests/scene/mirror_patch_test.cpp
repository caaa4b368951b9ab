// SPDX-License-Identifier: MIT
// Every shape as patches: places, normals and areas against the shape's own equation, against differences, and against each
// other.
#include "scene/mirror_patches.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "base/quadrature_rule.h"
#include "scene/mirror_surface.h"
#include "shape/catenary.h"

using namespace dishwright;

namespace {

constexpr double pi = std::numbers::pi;

Profile profile_of(CurveKind kind, bool trough) {
  std::vector<double> places, heights;
  for (int k = 0; k <= 24; ++k) places.push_back(0.3 * k / 24), heights.push_back(places.back() * places.back() / 0.96);
  const auto curve = std::make_shared<ProfileCurve>(trough ? ProfileCurve::mirrored(places, heights, kind)
                                                           : ProfileCurve(places, heights, kind, true));
  return {curve, trough, 0.5, 0.6, 0};
}

Facets tiles(TileShape shape, double tile, double gap) {
  Facets made;
  made.focal_length = 0.24, made.width = 0.6, made.tile = tile, made.gap = gap, made.tile_shape = shape;
  return made;
}

struct Case {
  const char* name;
  ReflectorShape shape;
  std::function<double(const Vector3&)> off;  // distance from the equation [m]; empty: looked at elsewhere
};

std::vector<Case> cases() {
  const auto parabola = [](const Vector3& p) { return p.z() - (p.x() * p.x() + p.y() * p.y()) / 0.96; };
  const auto focal_sum = [](double near, double far, double sign) {  // distances to the two foci
    return [=](const Vector3& p) {
      const double to_near = (p - Vector3(0, 0, near)).norm(), to_far = (p - Vector3(0, 0, sign * far)).norm();
      return sign > 0 ? to_near + to_far - (near + far) : to_far - to_near - (far - near);
    };
  };
  return {
      {"paraboloid", Paraboloid{0.24, 0.6, 0.1}, parabola},
      {"sphere", SphereBowl{0.3, 0.6, 0.1}, [](const Vector3& p) { return (p - Vector3(0, 0, 0.3)).norm() - 0.3; }},
      {"trough", Trough{0.24, 0.6, 0.5}, [](const Vector3& p) { return p.z() - p.x() * p.x() / 0.96; }},
      {"arc trough", ArcTrough{0.4, 0.6, 0.5}, [](const Vector3& p) { return std::hypot(p.x(), p.z() - 0.4) - 0.4; }},
      {"flat", Flat{0.6, 0.5}, [](const Vector3& p) { return p.z(); }},
      {"cone", Cone{0.3, 0.6, 0.1}, [](const Vector3& p) { return p.z() - p.head<2>().norm(); }},
      {"offset paraboloid", OffsetParaboloid{0.24, 0.05, 0.6, 0.1}, parabola},
      {"catenary", Catenary{0.6, 0.1, 0},
       [](const Vector3& p) { return p.z() - catenary_height(catenary_parameter(0.6, 0.1), p.head<2>().norm()); }},
      {"pressed", Pressed{0.6, 0.05, 0.1},
       [](const Vector3& p) { return p.z() - 0.05 * (1 - std::pow(1 - p.head<2>().squaredNorm() / 0.09, 2)); }},
      {"hyperboloid", Hyperboloid{0.1, 0.5, 0.3, 0}, focal_sum(0.1, 0.5, -1)},
      {"ellipsoid", Ellipsoid{0.3, 1.1, 0.6, 0}, focal_sum(0.3, 1.1, 1)},
      {"petals", Petals{0.24, 0.6, 8, false, 0.1},
       [](const Vector3& p) {
         return p.z() - petal_height({0.24, 0.6, 8, false, 0.1}, p.x(), p.y());
       }},
      {"fair profile", profile_of(CurveKind::fair, false), parabola},
      {"straight profile", profile_of(CurveKind::straight, false), {}},
      {"profile trough", profile_of(CurveKind::fair, true), [](const Vector3& p) { return p.z() - p.x() * p.x() / 0.96; }},
      {"square tiles", tiles(TileShape::square, 0.1, 0.002), {}},
      {"hexagon tiles", tiles(TileShape::hexagon, 0.1, 0.002), {}},
      {"round tiles", tiles(TileShape::round, 0.1, 0.002), {}},
  };
}

double area_of(const ReflectorShape& shape) {
  const Rule rule = gauss_rule(24);
  double area = 0;
  for (const MirrorPatch& patch : shape_patches(shape)) {
    for (std::size_t i = 0; i < rule.at.size(); ++i) {
      for (std::size_t j = 0; j < rule.at.size(); ++j)
        area += rule.weight[i] * rule.weight[j] * patch.at(rule.at[i], rule.at[j]).area;
    }
  }
  return area;
}

}  // namespace

TEST_CASE("places lie on the shape; normals and areas are those of the places' differences; bright sides face the right way") {
  for (const Case& one : cases()) {
    CAPTURE(one.name);
    const bool convex_front = std::string(one.name) == "hyperboloid";
    for (const MirrorPatch& patch : shape_patches(one.shape)) {
      for (const double u : {0.13, 0.5, 0.91}) {
        for (const double v : {0.07, 0.49, 0.83}) {
          const MirrorPoint p = patch.at(u, v);
          constexpr double h = 1e-5;
          const Vector3 along_u = (patch.at(u + h, v).place - patch.at(u - h, v).place) / (2 * h);
          const Vector3 along_v = (patch.at(u, v + h).place - patch.at(u, v - h).place) / (2 * h);
          const Vector3 across = along_u.cross(along_v);
          CHECK(std::abs(p.area / across.norm() - 1) < 1e-6);
          CHECK(std::abs(std::abs(p.normal.dot(across.normalized())) - 1) < 1e-8);
          CHECK(std::abs(p.normal.norm() - 1) < 1e-12);
          CHECK((p.normal.z() > 0) == !convex_front);
          if (one.off) CHECK(std::abs(one.off(p.place)) < 2e-9);
        }
      }
    }
  }
}

TEST_CASE("areas of whole mirrors in closed form") {
  // Bowl (8πf²/3)[(1 + (a/2f)²)^1.5 − 1]; sphere 2πR·depth; cone π a √(a² + h²); tiles: their number times one.
  const auto bowl = [](double a) { return 8 * pi * 0.24 * 0.24 / 3 * (std::pow(1 + a * a / (4 * 0.24 * 0.24), 1.5) - 1); };
  CHECK(area_of(Paraboloid{0.24, 0.6, 0.1}) == testing::approx(bowl(0.3) - bowl(0.05)).epsilon(1e-10));
  CHECK(area_of(SphereBowl{0.3, 0.6, 0}) == testing::approx(2 * pi * 0.3 * 0.3).epsilon(1e-10));
  CHECK(area_of(Cone{0.3, 0.6, 0}) == testing::approx(pi * 0.3 * std::hypot(0.3, 0.3)).epsilon(1e-10));
  CHECK(area_of(Flat{0.6, 0.5}) == testing::approx(0.3).epsilon(1e-12));
  for (const TileShape shape : {TileShape::square, TileShape::hexagon, TileShape::round}) {
    const Facets all = tiles(shape, 0.1, 0.002);
    CHECK(area_of(all) == testing::approx(tile_area(shape, 0.1) * static_cast<double>(facet_layout(all).size())).epsilon(1e-10));
  }
}

TEST_CASE("a height surface over a ring is sampled as the shape itself, and over a rectangle too") {
  const Catenary chain{0.6, 0.1, 0.1};
  const MirrorPatch height = height_patch(chain.heights(), {true, 0.05, 0.3}, true);
  const MirrorPatch own = shape_patches(chain).front();
  const MirrorPoint one = height.at(0.3, 0.6), other = own.at(0.3, 0.6);
  CHECK((one.place - other.place).norm() < 1e-14);
  CHECK((one.normal - other.normal).norm() < 1e-12);
  CHECK(std::abs(one.area - other.area) < 1e-12);
  PlanOutline plan{false};
  plan.x_from = -0.2, plan.x_to = 0.3, plan.y_from = -0.1, plan.y_to = 0.4;
  const MirrorPatch square = height_patch(chain.heights(), plan, true);
  CHECK((square.at(0, 1).place.head<2>() - Eigen::Vector2d(-0.2, 0.4)).norm() < 1e-15);
  CHECK(square.at(0.2, 0.2).area > 0.25);
}

TEST_CASE("quadrics and height surfaces hold the places of the patches") {
  for (const Case& one : cases()) {
    CAPTURE(one.name);
    const auto quadric = shape_quadric(one.shape);
    const auto surface = height_surface(one.shape);
    for (const MirrorPatch& patch : shape_patches(one.shape)) {
      const Vector3 p = patch.at(0.3, 0.7).place;
      if (quadric)
        CHECK(std::abs(quadric->a * p.x() * p.x() + quadric->b * p.y() * p.y() + quadric->c * p.z() * p.z() -
                       2 * quadric->d * p.z()) < 1e-12);
      if (surface == nullptr) continue;
      double height = 0, slope_x = 0, slope_y = 0;
      surface->heights(1, &p.x(), &p.y(), &height, &slope_x, &slope_y);
      CHECK(std::abs(height - p.z()) < 1e-12);
    }
  }
}
