// SPDX-License-Identifier: MIT
// Sound by mirrors of many shapes: one dish told in several ways, and an offset dish.
#include <algorithm>

#include "approx.h"
#include "wave/gain.h"
#include "wave_scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

Profile dish_profile(CurveKind kind) {
  std::vector<double> places, heights;
  for (int k = 0; k <= 24; ++k) places.push_back(0.3 * k / 24), heights.push_back(places.back() * places.back() / 0.96);
  return {std::make_shared<ProfileCurve>(places, heights, kind, true), false, 0, 0.6, 0};
}

}  // namespace

TEST_CASE(
    "one dish told in five ways has one gain: paraboloid, fair profile, height surface, many petals, fine mesh, small tiles") {
  const WaveSetup setup = of_length(343.0 / 4000);
  const Vector3 focus(0, 0, 0.24);
  const auto gain = [&](const ReflectorShape& shape) {
    return decibels(std::abs(wave_field(wave_scene(shape), setup, along_axis, {focus}).reflected[0]));
  };
  const double exact = decibels(11.597813);  // K of the table
  CHECK(std::abs(gain(dish_profile(CurveKind::fair)) - exact) < 1e-3);
  CHECK(std::abs(gain(dish_profile(CurveKind::straight)) - exact) < 0.02);
  CHECK(std::abs(gain(Petals{0.24, 0.6, 96, false, 0}) - exact) < 0.02);
  const auto twisted = [&](const ReflectorShape& shape) {
    Scene bent = wave_scene(shape);
    bent.reflectors[0].flaws.twist = 0.03;
    return decibels(std::abs(wave_field(bent, setup, along_axis, {focus}).reflected[0]));
  };
  const double bent = twisted(Paraboloid{0.24, 0.6, 0});
  CHECK(bent < exact - 0.1);
  CHECK(std::abs(twisted(Petals{0.24, 0.6, 96, false, 0}) - bent) < 0.02);
  // Small tiles, a grid in projection: each tilted one covers cos(φ/2) of its cell, so K = 4kf [1 − 1/√(1 + (a/2f)²)], and their
  // number counts for the disk's area.
  Facets small;
  small.focal_length = 0.24, small.width = 0.6, small.tile = 0.019, small.gap = 1e-6, small.tile_shape = TileShape::square;
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
  CHECK(std::abs(field.reflected[0]) == testing::approx(sum / wavelength).epsilon(1e-4));
}
