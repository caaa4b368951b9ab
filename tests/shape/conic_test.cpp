// SPDX-License-Identifier: MIT
// Ellipsoid and hyperboloid by their two definitions: distances to the foci, and where rays go. Closed forms: any analytic
// geometry text.
#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "approx.h"
#include "base/vector.h"
#include "shape/conic.h"

using namespace dishwright;

namespace {

// Unit gradient of a x² + b y² + c z² − 2 d z.
Vector3 normal_at(const Quadric<double>& q, const Vector3& p) {
  return Vector3(q.a * p.x(), q.b * p.y(), q.c * p.z() - q.d).normalized();
}

Vector3 reflected(const Vector3& along, const Vector3& normal) { return along - 2 * along.dot(normal) * normal; }

struct Draw {
  double near_focus, far_focus, r, azimuth;
};

std::vector<Draw> draws() {
  std::mt19937 random(20);
  std::uniform_real_distribution<double> unit(0, 1);
  std::vector<Draw> all;
  for (int k = 0; k < 300; ++k) {
    const double near_focus = std::pow(10.0, 2 * unit(random) - 1);
    all.push_back({near_focus, near_focus * (1.01 + 20 * unit(random)), unit(random), 6.283 * unit(random)});
  }
  return all;
}

}  // namespace

TEST_CASE("every ray from one focus of an ellipsoid goes through the other, all by the same length") {
  for (const Draw& d : draws()) {
    const Conic conic = ellipsoid_conic(d.near_focus, d.far_focus);
    const double r = 0.999 * d.r * ellipsoid_widest(d.near_focus, d.far_focus) / 2;
    const Vector3 p(r * std::cos(d.azimuth), r * std::sin(d.azimuth), conic.height(r));
    const Vector3 near_focus(0, 0, d.near_focus), far_focus(0, 0, d.far_focus);
    CHECK((p - near_focus).norm() + (p - far_focus).norm() == testing::approx(d.near_focus + d.far_focus).epsilon(1e-13));
    const Vector3 away = reflected((p - near_focus).normalized(), normal_at(conic.quadric(), p));
    CHECK(away.cross((far_focus - p).normalized()).norm() < 1e-11);
    CHECK(away.dot(far_focus - p) > 0);
  }
}

TEST_CASE("every ray on its way to the near focus of a hyperboloid is sent to the far one") {
  for (const Draw& d : draws()) {
    const Conic conic = hyperboloid_conic(d.near_focus, d.far_focus);
    const double r = 3 * d.r * d.near_focus;
    const Vector3 p(r * std::cos(d.azimuth), r * std::sin(d.azimuth), conic.height(r));
    const Vector3 near_focus(0, 0, d.near_focus), far_focus(0, 0, -d.far_focus);
    CHECK((p - far_focus).norm() - (p - near_focus).norm() == testing::approx(d.far_focus - d.near_focus).epsilon(1e-11));
    const Vector3 away = reflected((near_focus - p).normalized(), normal_at(conic.quadric(), p));
    CHECK(away.cross((far_focus - p).normalized()).norm() < 1e-11);
    CHECK(away.dot(far_focus - p) > 0);
  }
}

TEST_CASE("eccentricity, apex radius and width of worked cases") {
  // Ellipse with semi-axes 5 and 4: c = 3, foci 2 and 8 from the vertex, e = 0.6, b²/a = 3.2.
  const Conic ellipse = ellipsoid_conic(2, 8);
  CHECK(ellipse.eccentricity == testing::approx(0.6).epsilon(1e-15));
  CHECK(ellipse.apex_radius == testing::approx(3.2).epsilon(1e-15));
  CHECK(ellipse.apex_radius == testing::approx(2 * (1 + ellipse.eccentricity)).epsilon(1e-15));
  CHECK(ellipse.shape_factor == testing::approx(0.64).epsilon(1e-15));
  CHECK(ellipsoid_widest(2, 8) == 8);
  CHECK(ellipse.height(4) == testing::approx(5).epsilon(1e-7));  // the equator: the root loses half the digits there
  // Hyperbola with semi-axes 3 and 4: c = 5, foci 2 and 8 from the vertex, e = 5/3, b²/a = 16/3.
  const Conic hyperbola = hyperboloid_conic(2, 8);
  CHECK(hyperbola.eccentricity == testing::approx(5.0 / 3).epsilon(1e-15));
  CHECK(hyperbola.apex_radius == testing::approx(16.0 / 3).epsilon(1e-15));
  CHECK(hyperbola.shape_factor == testing::approx(1 - 25.0 / 9).epsilon(1e-15));
  CHECK(hyperbola.height(4) == testing::approx(3 * (std::sqrt(2.0) - 1)).epsilon(1e-14));  // (z + 3)²/9 − r²/16 = 1
}
