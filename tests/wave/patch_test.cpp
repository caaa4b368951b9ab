// SPDX-License-Identifier: MIT
// Every shape as patches: places, normals and areas against the shape's own equation, against differences, and against each other.
#include "wave/patch.h"

#include <algorithm>

#include "shape/catenary.h"
#include "shape/surfaces.h"
#include "wave/gain.h"
#include "wave/samples.h"
#include "wave_scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

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
  const std::vector<WavePatch> patches = shape_patches(shape);
  const WaveSamples samples = sample(patches, std::vector<PatchCounts>(patches.size(), {24, 24}), 1);
  double area = 0;
  for (const double part : samples.area) area += part;
  return area;
}

}  // namespace

TEST_CASE("places lie on the shape; normals and areas are those of the places' differences; bright sides face the right way") {
  for (const Case& one : cases()) {
    CAPTURE(one.name);
    const bool convex_front = std::string(one.name) == "hyperboloid";
    for (const WavePatch& patch : shape_patches(one.shape)) {
      for (const double u : {0.13, 0.5, 0.91}) {
        for (const double v : {0.07, 0.49, 0.83}) {
          const WavePoint p = patch.at(u, v);
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
  CHECK(area_of(Paraboloid{0.24, 0.6, 0.1}) == doctest::Approx(bowl(0.3) - bowl(0.05)).epsilon(1e-10));
  CHECK(area_of(SphereBowl{0.3, 0.6, 0}) == doctest::Approx(2 * pi * 0.3 * 0.3).epsilon(1e-10));
  CHECK(area_of(Cone{0.3, 0.6, 0}) == doctest::Approx(pi * 0.3 * std::hypot(0.3, 0.3)).epsilon(1e-10));
  CHECK(area_of(Flat{0.6, 0.5}) == doctest::Approx(0.3).epsilon(1e-12));
  for (const TileShape shape : {TileShape::square, TileShape::hexagon, TileShape::round}) {
    const Facets all = tiles(shape, 0.1, 0.002);
    CHECK(area_of(all) == doctest::Approx(tile_area(shape, 0.1) * static_cast<double>(facet_layout(all).size())).epsilon(1e-10));
  }
}

TEST_CASE(
    "one dish told in five ways has one gain: paraboloid, fair profile, height surface, many petals, fine mesh, small tiles") {
  const WaveSetup setup = of_length(343.0 / 4000);
  const Vector3 focus(0, 0, 0.24);
  const auto gain = [&](const ReflectorShape& shape) {
    return decibels(std::abs(wave_field(wave_scene(shape), setup, along_axis, {focus}).reflected[0]));
  };
  const double exact = decibels(11.597813);  // K of the table
  CHECK(std::abs(gain(profile_of(CurveKind::fair, false)) - exact) < 1e-3);
  CHECK(std::abs(gain(profile_of(CurveKind::straight, false)) - exact) < 0.02);
  CHECK(std::abs(gain(Petals{0.24, 0.6, 96, false, 0}) - exact) < 0.02);
  // Small tiles, a grid in projection: each tilted one covers cos(φ/2) of its cell, so K = 4kf [1 − 1/√(1 + (a/2f)²)], and their number counts for
  // the disk's area.
  const Facets small = tiles(TileShape::square, 0.019, 1e-6);
  const double shares = static_cast<double>(facet_layout(small).size()) * std::pow(0.019, 2) / (pi * 0.09);
  const double tiled = shares * 4 * 2 * pi / setup.wavelength() * 0.24 * (1 - 1 / std::sqrt(1 + std::pow(0.3 / 0.48, 2)));
  CHECK(std::abs(gain(small) - decibels(tiled)) < 0.03);

  std::vector<Vector3> corners = {Vector3::Zero()};
  std::vector<std::array<std::uint32_t, 3>> triangles;
  constexpr std::uint32_t rings = 24, around = 72;
  for (std::uint32_t i = 1; i <= rings; ++i) {
    for (std::uint32_t j = 0; j < around; ++j) {
      const double r = 0.3 * i / rings, angle = 2 * pi * j / around;
      corners.emplace_back(r * std::cos(angle), r * std::sin(angle), r * r / 0.96);
      const std::uint32_t here = 1 + (i - 1) * around + j, next = 1 + (i - 1) * around + (j + 1) % around;
      if (i == 1) {
        triangles.push_back({0, here, next});
      } else {
        triangles.push_back({here - around, here, next});
        triangles.push_back({here - around, next, next - around});
      }
    }
  }
  TriangleMesh mesh;
  mesh.vertices = corners, mesh.triangles = triangles;
  for (const Vector3& p : corners) mesh.normals.push_back(Vector3(-p.x() / 0.48, -p.y() / 0.48, 1).normalized());
  mesh.low = Vector3(-0.3, -0.3, 0), mesh.high = Vector3(0.3, 0.3, 0.09375);
  for (const bool smooth : {true, false}) {
    const WaveField field =
        wave_field(wave_scene(Mesh{std::make_shared<TriangleMesh>(mesh), smooth}), setup, along_axis, {focus});
    CHECK(std::abs(decibels(std::abs(field.reflected[0])) - exact) < 0.05);
    // Refined indeed: where nothing was added, nothing would change.
    CHECK(field.convergence.change > 0);
    CHECK(field.convergence.reached);
  }
}

TEST_CASE("a height surface over a ring is sampled as the shape itself, and over a rectangle too") {
  const double a = catenary_parameter(0.6, 0.1);
  const WavePatch height = height_patch(std::make_shared<CatenarySurface>(a), {true, 0.05, 0.3});
  const WavePatch own = shape_patches(Catenary{0.6, 0.1, 0.1}).front();
  const WavePoint one = height.at(0.3, 0.6), other = own.at(0.3, 0.6);
  CHECK((one.place - other.place).norm() < 1e-14);
  CHECK((one.normal - other.normal).norm() < 1e-12);
  CHECK(std::abs(one.area - other.area) < 1e-12);
  PlanOutline plan{false};
  plan.x_from = -0.2, plan.x_to = 0.3, plan.y_from = -0.1, plan.y_to = 0.4;
  const WavePatch square = height_patch(std::make_shared<CatenarySurface>(a), plan);
  CHECK((square.at(0, 1).place.head<2>() - Eigen::Vector2d(-0.2, 0.4)).norm() < 1e-15);
  CHECK(square.at(0.2, 0.2).area > 0.25);
}

TEST_CASE("an offset dish is in phase at its focus") {
  // All ways are equal, so |p| = k/(2π) ∫ cos/R dS, a positive integral: summed here on a plain grid.
  const double f = 0.24, wavelength = 0.03;
  double sum = 0;
  constexpr int n = 400;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      const double rho = 0.3 * (i + 0.5) / n, angle = 2 * pi * (j + 0.5) / n;
      const double x = rho * std::cos(angle), y = 0.35 + rho * std::sin(angle);
      // n·(F − Q) dS/R² of a paraboloid is dA/R: its normal halves the angle between the axis and the focus.
      sum += rho * (0.3 / n) * (2 * pi / n) / (f + (x * x + y * y) / (4 * f));
    }
  }
  const WaveField field =
      wave_field(wave_scene(OffsetParaboloid{f, 0.05, 0.6, 0}), of_length(wavelength), along_axis, {Vector3(0, 0, f)});
  CHECK(std::abs(field.reflected[0]) == doctest::Approx(sum / wavelength).epsilon(1e-4));
}
