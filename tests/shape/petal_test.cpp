// SPDX-License-Identifier: MIT
// Petals bend one way: along their middle line they are a parabola, across it straight.
#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <numbers>

#include "approx.h"
#include "shape/petals.h"

using namespace dishwright;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double f = 0.45;

Petals petals(int count, bool seams_on_curve) { return {f, 0.9, count, seams_on_curve, 0}; }

double height_at(const Petals& p, double r, double azimuth) {
  return petal_height(p, r * std::cos(azimuth), r * std::sin(azimuth));
}

}  // namespace

TEST_CASE("middle lines on the curve: the seam lies r² sin²(π/N)/4f below the parabola") {
  for (const int count : {3, 8, 12, 17}) {
    const Petals p = petals(count, false);
    for (const double r : {0.1, 0.3, 0.45}) {
      for (int k = 0; k < count; ++k) {
        const double parabola = r * r / (4 * f), seam = 2 * pi * (k + 0.5) / count;
        CHECK(height_at(p, r, 2 * pi * k / count) == testing::approx(parabola).epsilon(1e-13));
        const double low = std::pow(r * std::sin(pi / count), 2) / (4 * f);
        CHECK(height_at(p, r, seam - 1e-9) == testing::approx(parabola - low).epsilon(1e-7));
        CHECK(height_at(p, r, seam + 1e-9) == testing::approx(parabola - low).epsilon(1e-7));
      }
    }
  }
}

TEST_CASE("seams on the curve: the parabola is met on the seams, the middle lines lie above") {
  const Petals p = petals(8, true);
  for (const double r : {0.1, 0.3, 0.45}) {
    CHECK(height_at(p, r, pi / 8) == testing::approx(r * r / (4 * f)).epsilon(1e-13));
    const double above = std::pow(r * std::tan(pi / 8), 2) / (4 * f);  // 1/cos² − 1 = tan²
    CHECK(height_at(p, r, pi / 4) - r * r / (4 * f) == testing::approx(above).epsilon(1e-12));
  }
}

TEST_CASE("across a petal the sheet is straight and level") {
  const Petals p = petals(6, false);
  for (const double u : {0.1, 0.4}) {
    for (const double v : {-0.5, -0.2, 0.3, 0.57}) {  // up to tan(30°) = 0.577
      CHECK(petal_height(p, u, v * u) == testing::approx(u * u / (4 * f)).epsilon(1e-14));
      const Vector3 normal = petal_normal(p, u, v * u);
      CHECK(std::abs(normal.y()) < 1e-15);
      CHECK(normal.x() / normal.z() == testing::approx(-u / (2 * f)).epsilon(1e-14));
    }
  }
  CHECK(petal_at(p, 1, 0) == 0);
  CHECK(petal_at(p, 0, 1) != 0);
  CHECK(petal_at(p, std::cos(pi / 3), std::sin(pi / 3)) == 1);
  CHECK(petal_at(p, -1, -1e-12) == 3);
  CHECK(petal_at(p, 1, -0.1) == 0);
}

TEST_CASE("very many petals are the paraboloid") {
  for (const bool on : {false, true}) {
    const Petals p = petals(1000, on);
    CHECK(height_at(p, 0.4, 1.2345) == testing::approx(0.16 / (4 * f)).epsilon(2e-5));  // sin²(π/1000) = 1e-5
  }
}
