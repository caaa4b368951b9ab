// SPDX-License-Identifier: MIT
#include "survey/fit.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "approx.h"
#include "base/error.h"
#include "effort.h"
#include "known_values/read_table.h"
#include "survey/found_dish.h"
#include "survey/outliers.h"
#include "survey/synthetic.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254;

const std::vector<double> rings = {4 * inch, 8 * inch, 12 * inch, 16 * inch, 20 * inch, 23.5 * inch};

KnownParabola leaning_dish() {
  KnownParabola dish;
  dish.f = 24 * inch;
  dish.vertex = {0.008, -0.005, -6 * inch};
  dish.lean_x = 0.02, dish.lean_y = -0.015;
  return dish;
}

std::function<double(double, double)> heights(const KnownParabola& dish) {
  return [dish](double x, double y) { return dish.height(x, y); };
}

Vector3 axis_of(const KnownParabola& dish) {
  return (Eigen::AngleAxisd(dish.lean_y, Vector3::UnitY()) * Eigen::AngleAxisd(dish.lean_x, Vector3::UnitX())).matrix().col(2);
}

}  // namespace

TEST_CASE("nearest foot: the distance is the least over a dense search, and square to the surface") {
  for (const ShapeKind kind : {ShapeKind::paraboloid, ShapeKind::sphere, ShapeKind::trough}) {
    for (const Vector3& point :
         {Vector3(0.3, 0.2, 0.1), Vector3(0.5, 0, 0.05), Vector3(0.01, 0, 0.4), Vector3(-0.4, 0.3, -0.2)}) {
      const FootPoint foot = nearest_foot(kind, 0.6, point);
      double least = 1e9;
      for (int i = -400; i <= 400; ++i) {
        for (int j = -400; j <= 400; ++j) {
          const double x = point.x() + i * 5e-4, y = point.y() + j * 5e-4;
          if (kind == ShapeKind::sphere && x * x + y * y > 0.36) continue;
          least = std::min(least, (Vector3(x, y, own_height(kind, 0.6, x, y)) - point).norm());
        }
      }
      CHECK(std::abs(foot.distance) == testing::approx(least).epsilon(1e-4));
      CHECK((foot.point + foot.distance * foot.normal - point).norm() < 1e-12);
    }
  }
}

TEST_CASE("how the distance changes with the numbers of the fit: against differences") {
  PlacedShape shape;
  shape.size = 0.6;
  shape.turn = rotation(0.1, -0.2, 0.3);
  shape.vertex = {0.01, 0.02, -0.1};
  for (const ShapeKind kind : {ShapeKind::paraboloid, ShapeKind::sphere, ShapeKind::trough}) {
    shape.kind = kind;
    const Vector3 point = shape.from_own({0.3, 0.2, own_height(kind, 0.6, 0.3, 0.2) + 0.01});
    const FitVector slopes = distance_slopes(kind, shape.size, nearest_foot(kind, shape.size, shape.to_own(point)));
    const auto is_free = free_numbers(kind);
    for (int i = 0; i < fit_numbers; ++i) {
      if (!is_free[static_cast<std::size_t>(i)]) continue;
      FitVector step = FitVector::Zero();
      step[i] = 1e-6;
      const PlacedShape plus = moved(shape, step), minus = moved(shape, -step);
      const double change = nearest_foot(kind, plus.size, plus.to_own(point)).distance -
                            nearest_foot(kind, minus.size, minus.to_own(point)).distance;
      CHECK(slopes[i] == testing::approx(change / 2e-6).epsilon(1e-6));
    }
  }
}

TEST_CASE("exact readings give back focal length, vertex and lean") {
  const KnownParabola dish = leaning_dish();
  const SurveyPoints survey = survey_of(ring_places(rings, 12), heights(dish));
  const ShapeFit fit = fit_shape(survey, all_of(survey), ShapeKind::paraboloid);
  CHECK(fit.shape.size == testing::approx(dish.f).epsilon(1e-7));
  CHECK((fit.shape.vertex - dish.vertex).norm() < 1e-6);
  CHECK((fit.shape.axis() - axis_of(dish)).norm() < 1e-6);

  KnownParabola trough = dish;
  trough.trough = true;
  const SurveyPoints lengthwise = survey_of(grid_places(4 * inch, 20 * inch), heights(trough));
  const ShapeFit trough_fit = fit_shape(lengthwise, all_of(lengthwise), ShapeKind::trough);
  CHECK(trough_fit.shape.size == testing::approx(dish.f).epsilon(1e-7));

  const double radius = 48 * inch;
  const SurveyPoints bowl =
      survey_of(ring_places(rings, 12), [radius](double x, double y) { return -std::sqrt(radius * radius - x * x - y * y); });
  const ShapeFit bowl_fit = fit_shape(bowl, all_of(bowl), ShapeKind::sphere);
  CHECK(bowl_fit.shape.size == testing::approx(radius).epsilon(1e-7));
}

TEST_CASE("the best shape is told from the others") {
  const KnownParabola dish = leaning_dish();
  KnownParabola trough = dish;
  trough.trough = true;
  const double radius = 30 * inch;
  const auto ball = [radius](double x, double y) { return -std::sqrt(radius * radius - x * x - y * y); };
  SurveyPoints round = survey_of(ring_places(rings, 12), heights(dish)),
               lengthwise = survey_of(grid_places(4 * inch, 20 * inch), heights(trough)),
               bowl = survey_of(ring_places(rings, 12), ball);
  for (SurveyPoints* survey : {&round, &lengthwise, &bowl}) add_noise(*survey, 5e-4, 1);
  CHECK(fit_all(round, all_of(round), ShapeKind::sphere).best == ShapeKind::paraboloid);
  CHECK(fit_all(lengthwise, all_of(lengthwise), ShapeKind::paraboloid).best == ShapeKind::trough);
  CHECK(fit_all(bowl, all_of(bowl), ShapeKind::paraboloid).best == ShapeKind::sphere);
  // A very shallow dish read roughly: a ball fits as well, and what was meant is kept.
  KnownParabola shallow;
  shallow.f = 3;
  shallow.vertex = {0, 0, -0.03};
  SurveyPoints rough = survey_of(ring_places(rings, 12), heights(shallow));
  add_noise(rough, 1e-3, 1);
  const FitSet set = fit_all(rough, all_of(rough), ShapeKind::paraboloid);
  CHECK_FALSE(set.clear);
  CHECK(set.best == ShapeKind::paraboloid);
}

TEST_CASE("rounding on level rings is no evidence for another shape") {
  // A true paraboloid read with a rule in sixteenths: all readings of a ring are rounded alike, so the rings count, not the
  // readings. Whatever the focal length and the height of the straightedge, no other shape may be told "beyond doubt", and the
  // one that was meant is kept.
  int told = 0;
  const auto read = [&](double f, double lift) {
    SurveyPoints survey =
        survey_of(ring_places({4 * inch, 8 * inch, 12 * inch, 16 * inch, 20 * inch}, 12),
                  [&](double x, double y) { return std::round((x * x + y * y) / (4 * f) / inch * 16 - 96 + lift) / 16 * inch; });
    survey.step = inch / 16;
    const FitSet set = fit_all(survey, all_of(survey), ShapeKind::paraboloid);
    told += set.best != ShapeKind::paraboloid ? 1 : 0;
  };
  const int dishes = repeats(160);
  for (int k = 0; k < dishes; ++k) read((20 + 8.0 * k / dishes) * inch, std::fmod(0.37 * k, 1.0));
  // Three that a sphere fits far better by luck: differences of 14 to 19, where 6 would be odds of 20 to 1 for independent
  // readings.
  read(21.6 * inch, 0.625), read(24.8 * inch, 0), read(24.8 * inch, 0.125);
  CHECK(told == 0);
  // A true ball of short radius still is told.
  const double radius = 30 * inch;
  SurveyPoints bowl = survey_of(ring_places(rings, 12), [radius](double x, double y) {
    return std::round(-std::sqrt(radius * radius - x * x - y * y) / inch * 16) / 16 * inch;
  });
  bowl.step = inch / 16;
  const FitSet ball = fit_all(bowl, all_of(bowl), ShapeKind::paraboloid);
  CHECK(ball.best == ShapeKind::sphere);
  CHECK(ball.clear);
}

TEST_CASE("stated errors cover: 200 surveys with known focal length, lean and a bump") {
  const KnownParabola dish = leaning_dish();
  // A 1/4 in hump, 4 in in radius, far smaller than the dish: the robust fit should pass it by.
  const auto with_hump = [&](double x, double y) {
    const double away = std::hypot(x - 0.2, y + 0.1) / (4 * inch);
    return dish.height(x, y) + (away < 1 ? inch / 4 * std::pow(std::cos(std::numbers::pi / 2 * away), 2) : 0);
  };
  const Vector3 axis = axis_of(dish);
  const Eigen::Vector2d meeting = dish.vertex.head<2>() + 2 * dish.f * axis.head<2>();
  int focal_1 = 0, focal_2 = 0, meeting_1 = 0, focus_1 = 0, lean_2 = 0;
  constexpr int surveys = 200;
  for (unsigned seed = 0; seed < surveys; ++seed) {
    SurveyPoints survey = survey_of(ring_places(rings, 12), with_hump);
    add_noise(survey, 1e-3, seed);
    const FitFigures figures = fit_figures(fit_shape(survey, all_of(survey), ShapeKind::paraboloid));
    const auto off = [](const Estimate& found, double truth) {
      return std::abs(found.value - truth) / found.std_error.value_or(1e-9);
    };
    focal_1 += off(figures.focal_length, dish.f) < 1 ? 1 : 0;
    focal_2 += off(figures.focal_length, dish.f) < 2 ? 1 : 0;
    meeting_1 += off(figures.meeting[0], meeting.x()) < 1 ? 1 : 0;
    focus_1 += off(figures.focus[1], dish.vertex.y() + dish.f * axis.y()) < 1 ? 1 : 0;
    lean_2 += std::abs(figures.tilt.value - std::acos(axis.z())) < 2 * figures.tilt.std_error.value_or(0) ? 1 : 0;
  }
  // Binomial, 68.3 % and 95.4 % of 200: 136.5 ± 6.6 and 190.9 ± 3.0; limits at 3.5 of these: 5 tests, family-wise error below 1
  // %.
  for (const int count : {focal_1, meeting_1, focus_1}) {
    CAPTURE(count);
    CHECK(count > 113);
    CHECK(count < 160);
  }
  CHECK(focal_2 >= 180);
  CHECK(lean_2 >= 180);
}

TEST_CASE("plain least squares agrees with scipy 1.10 least_squares on the same points") {
  // tests/known_values/survey_fits.csv: the points are z = formula + 1 mm · sin(12.9898 i²), i counting from 0; numbers by
  // scipy.optimize.least_squares (method lm, tolerances 1e-15) on orthogonal distances found by scipy.optimize.brentq. An error
  // in a derivative or a wrong foot would show at the first digit.
  const KnownParabola dish = leaning_dish();
  SurveyPoints survey = survey_of(ring_places(rings, 12), heights(dish));
  for (std::size_t i = 0; i < survey.points.size(); ++i) {
    const double k = static_cast<double>(i);
    survey.points[i].z() += 1e-3 * std::sin(12.9898 * k * k);
  }
  const known::Row expected = known::read_table("survey_fits.csv").front();
  const ShapeFit fit = fit_shape(survey, all_of(survey), ShapeKind::paraboloid, Weighting::equal);
  CHECK(fit.shape.size == testing::approx(expected.at("paraboloid_focal_length_m")).epsilon(1e-6));
  CHECK(fit.shape.axis().x() == testing::approx(expected.at("paraboloid_axis_x")).epsilon(1e-4));
  CHECK(fit.shape.axis().y() == testing::approx(expected.at("paraboloid_axis_y")).epsilon(1e-4));
  CHECK(fit.rms == testing::approx(expected.at("paraboloid_rms_m")).epsilon(1e-6));
  const ShapeFit ball = fit_shape(survey, all_of(survey), ShapeKind::sphere, Weighting::equal);
  CHECK(ball.shape.size == testing::approx(expected.at("sphere_radius_m")).epsilon(1e-6));
  CHECK(ball.rms == testing::approx(expected.at("sphere_rms_m")).epsilon(1e-6));
}

TEST_CASE("outside readings: the skin's thickness is taken off square to the surface") {
  // Points 3 mm outside a paraboloid along its normals, exactly.
  SurveyPoints survey;
  survey.under_rim = true;
  survey.skin = 3e-3;
  for (const Eigen::Vector2d& place : ring_places(rings, 12)) {
    const Eigen::Vector2d slope = place / (2 * 0.6);
    const Vector3 normal = Vector3(-slope.x(), -slope.y(), 1).normalized();
    survey.points.emplace_back(Vector3(place.x(), place.y(), place.squaredNorm() / 2.4) - 3e-3 * normal);
  }
  const ShapeFit fit = fit_shape(survey, all_of(survey), ShapeKind::paraboloid);
  CHECK(fit.shape.size == testing::approx(0.6).epsilon(1e-8));
  survey.skin = 0;
  CHECK(std::abs(fit_shape(survey, all_of(survey), ShapeKind::paraboloid).shape.size - 0.6) > 1e-4);
}

TEST_CASE("blunders are set aside, dents are kept") {
  SurveyPoints survey = survey_of(ring_places(rings, 12), heights(leaning_dish()));
  add_noise(survey, 5e-4, 4);
  survey.points[20].z() += inch;  // a slip of an inch
  survey.points[50].z() -= 2 * inch;
  survey.points[30].z() += inch / 4;  // a dent that one reading met
  const ShapeFit fit = fit_shape(survey, all_of(survey), ShapeKind::paraboloid);
  std::vector<std::size_t> found;
  for (const Outlier& outlier : find_outliers(survey, all_of(survey), fit)) found.push_back(outlier.index);
  CHECK(found == std::vector<std::size_t>{20, 50});
}

TEST_CASE("a cloud in any position") {
  const Matrix3 turn = rotation(1.1, -0.7, 2.0);
  SurveyPoints survey;
  for (const Eigen::Vector2d& place : grid_places(0.03, 0.6)) {
    survey.points.emplace_back(turn * Vector3(place.x(), place.y(), place.squaredNorm() / 2.4) + Vector3(3, -2, 5));
  }
  const ShapeFit fit = fit_shape(survey, all_of(survey), ShapeKind::paraboloid);
  CHECK(fit.shape.size == testing::approx(0.6).epsilon(1e-7));
  CHECK((fit.shape.axis() - turn.col(2)).norm() < 1e-6);
  CHECK((fit.shape.vertex - Vector3(3, -2, 5)).norm() < 1e-6);
}

TEST_CASE("points that fix no shape are refused") {
  SurveyPoints line, circle;
  for (int i = 0; i < 20; ++i) {
    line.points.emplace_back(0.01 * i, 0.02 * i, 0.0);
    circle.points.emplace_back(0.3 * std::cos(0.3 * i), 0.3 * std::sin(0.3 * i), 0.02);
  }
  CHECK_THROWS_AS(fit_shape(line, all_of(line), ShapeKind::paraboloid), InputError);
  CHECK_THROWS_AS(fit_shape(circle, all_of(circle), ShapeKind::paraboloid), InputError);
}

TEST_CASE("found dishes: textbook problems") {
  // OpenStax Precalculus 2e §10.3 exercises: satellite dish 12 ft across, 4 ft deep: receiver 2.25 ft above the vertex; 8 ft
  // across, 2 ft deep: 2 ft.
  CHECK(found_dish({12, 4, std::nullopt, 0}).focal_length.value == testing::approx(2.25).epsilon(1e-12));
  CHECK(found_dish({8, 2, std::nullopt, 0}).focal_length.value == testing::approx(2).epsilon(1e-12));
  // The same section's fire starter: 4.5 in wide, igniter 1.7 in above the vertex, depth 0.744485 in.
  CHECK(found_dish({4.5, 0.744485294, std::nullopt, 0}).focal_length.value == testing::approx(1.7).epsilon(1e-8));
  // 16 ft by 5 ft: 3.2 ft.
  CHECK(found_dish({16, 5, std::nullopt, 0}).focal_length.value == testing::approx(3.2).epsilon(1e-12));
  CHECK_FALSE(found_dish({16, 5, std::nullopt, 0}).focal_length.std_error.has_value());
  CHECK_THROWS_AS(found_dish({5, 16, std::nullopt, 0}), InputError);
}

TEST_CASE("an offset dish is found from its rim: cut from a known paraboloid") {
  // Cut by a cylinder of diameter W parallel to the axis; rim, deepest depth and strings measured by brute force on the surface.
  const double f = 0.6, w = 0.9, clearance = 0.1, y0 = clearance + w / 2;
  const auto on = [f](double x, double y) { return Vector3(x, y, (x * x + y * y) / (4 * f)); };
  const Vector3 bottom = on(0, clearance), top = on(0, clearance + w), side = on(w / 2, y0);
  const double h = (top - bottom).norm();
  const Vector3 normal = Vector3(1, 0, 0).cross(top - bottom).normalized();
  double deepest = 0;
  for (int i = 0; i <= 2000; ++i) deepest = std::max(deepest, std::abs(normal.dot(on(0, clearance + w * i / 2000) - bottom)));
  const FoundDish found = found_dish({w, deepest, h, 1e-3});
  CHECK(found.focal_length.value == testing::approx(f).epsilon(1e-6));
  CHECK(found.clearance.value == testing::approx(clearance).epsilon(1e-4));
  const Vector3 focus(0, 0, f);
  CHECK(found.strings[0].length.value == testing::approx((bottom - focus).norm()).epsilon(1e-5));
  CHECK(found.strings[1].length.value == testing::approx((top - focus).norm()).epsilon(1e-5));
  CHECK(found.strings[2].length.value == testing::approx((side - focus).norm()).epsilon(1e-5));
  // Relative error: (3 σ_W/W)² + (σ_d/d)² + (σ_H/H)², σ = tape/√3.
  const double sigma = 1e-3 / std::sqrt(3.0);
  const double expected = f * std::sqrt(std::pow(3 * sigma / w, 2) + std::pow(sigma / deepest, 2) + std::pow(sigma / h, 2));
  CHECK(found.focal_length.std_error.value_or(0) == testing::approx(expected).epsilon(1e-4));
  CHECK(found.low.value < f);
  CHECK(found.high.value > f);
}
