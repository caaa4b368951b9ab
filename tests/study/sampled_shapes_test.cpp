// SPDX-License-Identifier: MIT
// Curves and meshes sampled from exact shapes come near them at the order of their kind.
#include <algorithm>

#include "../trace/sample_shapes.h"
#include "approx.h"
#include "scenes.h"
#include "trace/path_history.h"

using namespace dishwright;
using namespace dishwright::test;

namespace {

std::vector<Step> first_reflections(const ReflectorShape& shape, std::uint64_t paths) {
  std::vector<Step> found;
  for (const PathHistory& story :
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

TEST_CASE("mesh of a paraboloid: the miss at the focus falls at second order with smooth normals, at first with flat" *
          doctest::test_suite("slow")) {
  const double smooth[3] = {mesh_miss(8, true, 0.7), mesh_miss(16, true, 0.7), mesh_miss(32, true, 0.7)};
  const double flat[3] = {mesh_miss(8, false, 1), mesh_miss(16, false, 1), mesh_miss(32, false, 1)};
  for (int k = 0; k < 2; ++k) {
    CAPTURE(k);
    // Sampled with 700 rays and more, an rms is known to about 3 %.
    CHECK(smooth[k] / smooth[k + 1] == testing::approx(4).epsilon(0.12));
    CHECK(flat[k] / flat[k + 1] == testing::approx(2).epsilon(0.12));
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

// Cubic splines: height to fourth order, so slope to third (de Boor, A Practical Guide to Splines, ch. V); straight: slope to
// first. The largest errors of scipy's CubicSpline((1, 0), 'not-a-knot') through these points, for 12, 24, 48 spans: 3.0043e-4,
// 3.9048e-5, 4.9790e-6; of numpy's interp: 8.809e-2, 4.4647e-2, 2.2477e-2 (scipy 1.10, 200 001 places).
TEST_CASE("a curve through points of a chain: half the spacing, an eighth of the slope error if fair, half if straight" *
          doctest::test_suite("slow")) {
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

// The part of the parabola z = x²/(4 f) from x = 0.1 m to 0.6 m, as a trough: all axial light meets in the line x = 0, z = f,
// wherever the part lies. Its opening is 0.5 m × 1 m.
TEST_CASE("a trough whose curve lies on one side of the axis stays there") {
  const double f = 0.6, from = 0.1, to = 0.6;
  std::vector<double> places, heights;
  for (int i = 0; i <= 40; ++i) {
    places.push_back(from + (to - from) * i / 40);
    heights.push_back(places.back() * places.back() / (4 * f));
  }
  const Profile profile{std::make_shared<const ProfileCurve>(places, heights, CurveKind::fair, false), true, 1, to - from, 0};
  double lowest = 1, highest = 0, miss = 0;
  for (const Step& step : first_reflections(profile, 1500)) {
    lowest = std::min(lowest, step.point.x()), highest = std::max(highest, step.point.x());
    // Distance from the focal line of the ray in projection along y.
    const double length = std::hypot(step.direction.x(), step.direction.z());
    miss = std::max(miss, std::abs((step.point.x() * step.direction.z() - (step.point.z() - f) * step.direction.x()) / length));
  }
  CHECK(lowest > from - 1e-9);
  CHECK(lowest < from + 0.005);
  CHECK(highest < to + 1e-9);
  CHECK(highest > to - 0.005);
  CHECK(miss < 1e-9);  // the spline of a parabola is that parabola
  const Scene made = scene(point_sun(), mirror(profile), target(RectangleTarget{0.1, 2}, {0, 0, f}), 20'000, 5);
  Watch watch;
  const TraceFigures figures = ray_figures(made, 2, watch);
  CHECK(figures.aperture_power.value == testing::approx(made.sun.beam * 0.5).epsilon(1e-9));
  CHECK(figures.targets[0].power.value + figures.ledger[1].power.value > 0.99 * figures.aperture_power.value);
}

TEST_CASE("a smooth mesh sends its light where the true mirror sends it, up to the rim" * doctest::test_suite("slow")) {
  // 20 000 triangles of a square cut from a paraboloid; a round target as wide as the sun's image from the corners holds all of
  // the true mirror's light.
  const double f = 0.6, width = 1.2, corner = width / std::sqrt(2.0), away = f + corner * corner / (4 * f);
  const double cosine = (2 * f - away) / away,
               image = 2 * away * std::tan(sun_angle) / cosine;  // where the slanting cone meets the plane
  const Target spot = target(DiskTarget{1.02 * image}, {0, 0, f});
  const Mesh mesh{sampled_mesh(f, width, 100), true};
  for (const Sun& shine : {uniform_sun(), limb_sun()}) {
    const TraceFigures exact = traced(scene(shine, mirror(WavyDish(f, 0, 1).mirror(width, width, 0)), spot, 300'000, 4));
    const TraceFigures sampled = traced(scene(shine, mirror(mesh), spot, 300'000, 4));
    CHECK(exact.targets[0].intercept->value > 1 - 1e-5);
    CHECK(sampled.targets[0].intercept->value > 1 - 2e-4);
    check_same("50 %", *sampled.targets[0].spot_width_50, *exact.targets[0].spot_width_50,
               1e-3 * exact.targets[0].spot_width_50->value);
    check_same("90 %", *sampled.targets[0].spot_width_90, *exact.targets[0].spot_width_90,
               1e-3 * exact.targets[0].spot_width_90->value);
  }
  // A tight target: the same share to 1e-3.
  const Target small = target(DiskTarget{0.3 * image}, {0, 0, f});
  const TraceFigures exact = traced(scene(limb_sun(), mirror(WavyDish(f, 0, 1).mirror(width, width, 0)), small, 1'000'000, 4));
  const TraceFigures sampled = traced(scene(limb_sun(), mirror(mesh), small, 1'000'000, 4));
  check_same("intercept", *sampled.targets[0].intercept, *exact.targets[0].intercept, 1e-3);
  // Rays of the whole mirror, rim and corners too, miss the focus at second order.
  CHECK(mesh_miss(16, true, 1) / mesh_miss(32, true, 1) == testing::approx(4).epsilon(0.15));
}
