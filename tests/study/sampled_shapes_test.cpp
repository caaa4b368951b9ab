// SPDX-License-Identifier: MIT
// Curves and meshes sampled from exact shapes come near them at the order of their kind.
#include <algorithm>

#include "../trace/sample_shapes.h"
#include "scenes.h"
#include "trace/story.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

std::vector<Step> first_reflections(const ReflectorShape& shape, std::uint64_t paths) {
  std::vector<Step> found;
  for (const PathStory& story :
       replay_paths(scene(point_sun(), mirror(shape), target(BallTarget{1e-3}, {0, 0, 5}), 100'000, 71), paths)) {
    if (story.steps.size() > 1 && story.steps[1].kind == StepKind::reflected) found.push_back(story.steps[1]);
  }
  return found;
}

double focus_miss(const Step& step, double f) { return (Vector3(0, 0, f) - step.point).cross(step.direction).norm(); }

double rms(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) sum += value * value;
  return std::sqrt(sum / static_cast<double>(values.size()));
}

/// rms distance from the focus of the rays of a sampled paraboloid (f = 1, a square 1 m wide) that start in its middle part.
double mesh_miss(int cells, bool smooth, double part) {
  std::vector<double> misses;
  for (const Step& step : first_reflections(Mesh{sampled_mesh(1, 1, cells), smooth}, 1500)) {
    if (std::max(std::abs(step.point.x()), std::abs(step.point.y())) < part / 2) misses.push_back(focus_miss(step, 1));
  }
  REQUIRE(misses.size() > 200);
  return rms(misses);
}

/// Largest slope error of a chain's curve (R = 0.6 m) through n + 1 of its points, against sinh(r/a).
double curve_slope_error(int n, CurveKind kind) {
  const double a = 0.5, rim = 0.6;
  std::vector<double> places, heights;
  for (int i = 0; i <= n; ++i) {
    places.push_back(rim * i / n);
    heights.push_back(a * (std::cosh(places.back() / a) - 1));
  }
  const Profile profile{std::make_shared<const ProfileCurve>(places, heights, kind, true), false, 0, 2 * rim, 0};
  double largest = 0;
  for (const Step& step : first_reflections(profile, 1500)) {
    const double r = std::hypot(step.point.x(), step.point.y());
    const double slope = -(step.normal.x() * step.point.x() + step.normal.y() * step.point.y()) / r / step.normal.z();
    largest = std::max(largest, std::abs(slope - std::sinh(r / a)));
  }
  return largest;
}

}  // namespace

TEST_CASE("mesh of a paraboloid: the miss at the focus falls at second order with smooth normals, at first with flat") {
  const double smooth[3] = {mesh_miss(8, true, 0.7), mesh_miss(16, true, 0.7), mesh_miss(32, true, 0.7)};
  const double flat[3] = {mesh_miss(8, false, 1), mesh_miss(16, false, 1), mesh_miss(32, false, 1)};
  for (int k = 0; k < 2; ++k) {
    CAPTURE(k);
    // Sampled with 700 rays and more, an rms is known to about 3 %.
    CHECK(smooth[k] / smooth[k + 1] == doctest::Approx(4).epsilon(0.12));
    CHECK(flat[k] / flat[k + 1] == doctest::Approx(2).epsilon(0.12));
  }
  // A flat triangle of the side h misses by about h/2 along its slope: twice the slope error h/(4f) at the distance f.
  CHECK(flat[2] > 0.2 / 32);
  CHECK(flat[2] < 0.6 / 32);
}

TEST_CASE("a curve through points of a parabola: the fair one is the parabola, from 5 points on") {
  for (const Step& step : first_reflections(Profile{sampled_curve(0.6, 0, 0.6, 4, CurveKind::fair), false, 0, 1.2, 0}, 200)) {
    CHECK(focus_miss(step, 0.6) < 1e-6);
  }
  // And so are its figures, with the sun's disc.
  const Target spot = target(DiskTarget{0.006}, {0, 0, 0.6});
  const TraceFigures sampled = traced(
      scene(limb_sun(), mirror(Profile{sampled_curve(0.6, 0, 0.6, 4, CurveKind::fair), false, 0, 1.2, 0}), spot, 400'000, 3));
  const TraceFigures exact = traced(scene(limb_sun(), mirror(Paraboloid{0.6, 1.2, 0}), spot, 400'000, 4));
  check_same("aperture", sampled.aperture_power, exact.aperture_power);
  check_same("intercept", *sampled.targets[0].intercept, *exact.targets[0].intercept);
  check_same("90 %", *sampled.targets[0].spot_width_90, *exact.targets[0].spot_width_90);
}

// Cubic splines: height to fourth order, so slope to third (de Boor, A Practical Guide to Splines, ch. V); straight: slope to first. The
// largest errors of scipy's CubicSpline((1, 0), 'not-a-knot') through these points, for 12, 24, 48 spans: 3.0043e-4, 3.9048e-5, 4.9790e-6; of
// numpy's interp: 8.809e-2, 4.4647e-2, 2.2477e-2 (scipy 1.10, 200 001 places).
TEST_CASE("a curve through points of a chain: half the spacing, an eighth of the slope error if fair, half if straight") {
  const double fair[3] = {3.0043e-4, 3.9048e-5, 4.9790e-6}, straight[3] = {8.809e-2, 4.4647e-2, 2.2477e-2};
  for (int k = 0; k < 3; ++k) {
    const int n = 12 << k;
    CAPTURE(n);
    // The largest of 1500 rays is not quite the largest of all: the worst place is next to the rim.
    const double fair_error = curve_slope_error(n, CurveKind::fair), straight_error = curve_slope_error(n, CurveKind::straight);
    CHECK(fair_error <= fair[k] * 1.001);
    CHECK(fair_error > fair[k] * 0.9);
    CHECK(straight_error <= straight[k] * 1.001);
    CHECK(straight_error > straight[k] * 0.9);
  }
}
