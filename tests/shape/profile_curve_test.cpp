// SPDX-License-Identifier: MIT
// The spline against scipy.interpolate.CubicSpline 1.10.1 (numbers made with it), and against cubics, which it must give back.
#include <doctest/doctest.h>

#include <cmath>

#include "approx.h"
#include "shape/profile_curve.h"

using namespace dishwright;

namespace {

struct Known {
  double x, height, slope;
};

void check_against(const ProfileCurve& curve, const std::vector<Known>& known) {
  for (const Known& k : known) {
    CAPTURE(k.x);
    CHECK(curve.height(k.x) == testing::approx(k.height).epsilon(1e-13));
    CHECK(curve.slope(k.x) == testing::approx(k.slope).epsilon(1e-13));
  }
}

const std::vector<double> places = {0, 2.5, 4, 7, 11, 12.5};
const std::vector<double> heights = {0, 0.31, 0.6, 2.2, 4.9, 6.8};

}  // namespace

TEST_CASE("fair with an axis is scipy's spline with bc_type = ((1, 0), 'not-a-knot')") {
  check_against({places, heights, CurveKind::fair, true}, {{1.0, 0.07222138426591256, 0.1293618456878834},
                                                           {3.0, 0.3847707415820623, 0.15403829215149972},
                                                           {6.9, 2.141104237103313, 0.5925252998624695},
                                                           {9.3, 3.5255325993849778, 0.6493119410319412},
                                                           {12.0, 6.074185171449322, 1.3514094385981175}});
  const ProfileCurve three({0, 1, 3}, {0, 0.2, 2}, CurveKind::fair, true);
  CHECK(three.height(0.7) == testing::approx(0.09636666666666664).epsilon(1e-13));
  CHECK(three.height(2.9) == testing::approx(1.8595444444444444).epsilon(1e-13));
  CHECK(three.slope(3) == testing::approx(1.4333333333333327).epsilon(1e-13));
}

TEST_CASE("fair without an axis is scipy's spline with bc_type = 'not-a-knot'") {
  std::vector<double> shifted = places;
  for (double& x : shifted) x -= 5;
  check_against({shifted, heights, CurveKind::fair, false}, {{-4.0, 0.18170252740667628, 0.11533333333333332},
                                                             {-1.7, 0.42058616207832494, 0.1907885374881032},
                                                             {0.5, 1.3068947662941945, 0.5724614925916788},
                                                             {3.3, 2.9240681408579783, 0.560430905095938},
                                                             {7.0, 6.074865110977946, 1.3508654869752188}});
}

TEST_CASE("a sampled cubic comes back, ends and all") {
  const auto cubic = [](double x) { return 0.3 - 0.2 * x + 0.05 * x * x + 0.01 * x * x * x; };
  const auto slope = [](double x) { return -0.2 + 0.1 * x + 0.03 * x * x; };
  std::vector<double> x = {-3, -1.5, -1, 0.4, 2, 3.7}, y;
  for (const double place : x) y.push_back(cubic(place));
  const ProfileCurve curve(x, y, CurveKind::fair, false);
  for (int step = 0; step <= 67; ++step) {
    const double at = -3 + 0.1 * step;
    CHECK(curve.height(at) == testing::approx(cubic(at)).epsilon(1e-13));
    CHECK(curve.slope(at) == testing::approx(slope(at)).epsilon(1e-12));
  }
}

TEST_CASE("a sampled parabola comes back with its rim slope, from 3 points on") {
  // Natural ends would tilt the rim; these do not.
  for (const int n : {3, 4, 9}) {
    std::vector<double> x, y;
    for (int i = 0; i < n; ++i) x.push_back(0.6 * i / (n - 1)), y.push_back(x.back() * x.back() / 1.8);
    const ProfileCurve dish(x, y, CurveKind::fair, true);
    const ProfileCurve trough = ProfileCurve::mirrored(x, y, CurveKind::fair);
    CHECK(trough.start() == -0.6);
    CHECK(trough.rim() == 0.6);
    for (const double at : {0.0, 0.05, 0.31, 0.599, 0.6}) {
      CHECK(dish.height(at) == testing::approx(at * at / 1.8).epsilon(1e-13));
      CHECK(dish.slope(at) == testing::approx(at / 0.9).epsilon(1e-12));
      CHECK(trough.height(-at) == testing::approx(at * at / 1.8).epsilon(1e-13));
      CHECK(trough.slope(-at) == testing::approx(-at / 0.9).epsilon(1e-12));
    }
  }
  const ProfileCurve bent({1, 2, 4}, {0, 0.2, 2}, CurveKind::fair, false);  // scipy, as above
  CHECK(bent.height(1.7) == testing::approx(0.09099999999999996).epsilon(1e-13));
  CHECK(bent.slope(4) == testing::approx(1.3666666666666665).epsilon(1e-13));
  const ProfileCurve three({1, 2, 4}, {1, 4, 16}, CurveKind::fair, false);
  CHECK(three.height(3) == testing::approx(9).epsilon(1e-14));
}

TEST_CASE("a mirrored curve is the mirror image") {
  const ProfileCurve half(places, heights, CurveKind::fair, true);
  const ProfileCurve whole = ProfileCurve::mirrored(places, heights, CurveKind::fair);
  for (int step = 0; step < 33; ++step) {
    const double x = 0.01 + 0.37 * step;
    CHECK(std::abs(whole.height(-x) - half.height(x)) < 1e-12);
    CHECK(std::abs(whole.slope(-x) + half.slope(x)) < 1e-12);
    CHECK(whole.height(x) == half.height(x));
  }
}

TEST_CASE("straight runs from point to point") {
  const ProfileCurve curve(places, heights, CurveKind::straight, true);
  CHECK(curve.height(5.5) == testing::approx(1.4).epsilon(1e-14));
  CHECK(curve.slope(5.5) == testing::approx(1.6 / 3).epsilon(1e-14));
  CHECK(curve.slope(0.1) == testing::approx(0.124).epsilon(1e-14));
  CHECK(curve.lowest() == 0);
  CHECK(curve.highest() == 6.8);
}

TEST_CASE("lowest and highest include the bulge between points") {
  // Through (−1, 0), (0, −1), (1, 0), (2, 3): x² − 1; the lowest point of the shifted one lies between samples.
  const ProfileCurve curve({-1.2, 0.4, 1, 2}, {0.44, -0.84, 0, 3}, CurveKind::fair, false);
  CHECK(curve.lowest() == testing::approx(-1).epsilon(1e-12));
  CHECK(curve.highest() == 3);
}
