// SPDX-License-Identifier: MIT
// A tilt of the surface turns the ray twice in the plane of incidence and 2 cos i times across it; spread of the finish is not
// doubled.
#include <Eigen/Geometry>

#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

constexpr double reach = 1;           // mirror to target [m]
constexpr double mirror_side = 2e-3;  // [m]

// A small flat mirror turned by i about y under a point sun on the z axis throws light along (sin 2i, 0, cos 2i). The target
// faces it; `roll` turns the target about its own axis, so that its band lies in the plane of incidence (0) or across it (90°).
void check_band(const std::string& what, double incidence, double slope, double spread, double roll, double expected,
                double allowance) {
  Reflector flat = mirror(Flat{mirror_side, mirror_side}, slope);
  flat.specular_spread = spread;
  flat.pose.turn = Eigen::AngleAxisd(incidence, Vector3::UnitY()).toRotationMatrix();
  const Vector3 along(std::sin(2 * incidence), 0, std::cos(2 * incidence));
  Target wall = target(RectangleTarget{0.2, 0.2}, reach * along);
  wall.pose.turn =
      (Eigen::AngleAxisd(2 * incidence, Vector3::UnitY()) * Eigen::AngleAxisd(roll, Vector3::UnitZ())).toRotationMatrix();
  const TraceFigures figures = traced(scene(point_sun(), flat, wall, 600'000, 23));
  check_agrees(what, *figures.targets[0].spot_width_90, expected, figures.replicates - 1, allowance * expected);
}

// 90 % band of a Gaussian (quantile 1.644854) with the mirror's own outline added in quadrature (a uniform of that width).
double expected_band(double sigma, double outline) { return 2 * 1.644854 * std::sqrt(sigma * sigma + outline * outline / 12); }

}  // namespace

TEST_CASE("slope error: 2σ in the plane of incidence, 2σ cos i across" * doctest::test_suite("slow")) {
  const double slope = 4e-3;
  for (const double incidence : {0.0, degrees(30), degrees(45), degrees(60)}) {
    CAPTURE(incidence);
    // Left out: tan of 8 mrad and second order of the tilt (1e-4), outline not Gaussian (1e-5).
    const double in_plane = expected_band(2 * slope * reach, mirror_side * std::cos(incidence));
    const double across = expected_band(2 * slope * std::cos(incidence) * reach, mirror_side);
    check_band("in the plane", incidence, slope, 0, 0, in_plane, 5e-4);
    check_band("across", incidence, slope, 0, degrees(90), across, 5e-4);
  }
}

TEST_CASE("specular spread: σ of the reflected ray, both ways, not doubled") {
  const double spread = 6e-3;
  for (const double incidence : {0.0, degrees(45)}) {
    const double in_plane = expected_band(spread * reach, mirror_side * std::cos(incidence));
    const double across = expected_band(spread * reach, mirror_side);
    check_band("in the plane", incidence, 0, spread, 0, in_plane, 3e-4);
    check_band("across", incidence, 0, spread, degrees(90), across, 3e-4);
  }
}

TEST_CASE("slope error and spread add in quadrature") {
  const double in_plane = expected_band(std::hypot(2 * 3e-3, 5e-3) * reach, mirror_side);
  check_band("both", 0, 3e-3, 5e-3, 0, in_plane, 3e-4);
}
