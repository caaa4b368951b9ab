// SPDX-License-Identifier: MIT
#include "survey/no_dish.h"

#include <doctest/doctest.h>

#include "approx.h"
#include "base/error.h"
#include "survey/measured_mirror.h"
#include "survey/survey.h"
#include "survey/synthetic.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254;

std::string answer(const SurveyPoints& points) {
  try {
    survey_points(points, ShapeKind::paraboloid, false);
  } catch (const InputError& error) {
    return error.problems().front().what;
  }
  return "a dish";
}

std::string answer(const std::function<double(double, double)>& height, double noise, unsigned seed, bool cloud) {
  SurveyPoints points = survey_of(grid_places(4 * inch, 24 * inch), height);
  add_noise(points, noise, seed);
  points.under_rim = !cloud;
  return answer(points);
}

const char* const flat = "these readings are no dish: they are flat, or as good as flat";

}  // namespace

TEST_CASE("a plate is no dish: level, tilted, exact, with noise, read with a rule, as a cloud") {
  for (const bool cloud : {false, true}) {
    for (const double lean : {0.0, 0.02, 0.2}) {
      const auto plane = [lean](double x, double y) { return lean * (x - y / 2) - inch; };
      CHECK(answer(plane, 0, 1, cloud) == flat);
      for (unsigned seed = 1; seed <= 20; ++seed) CHECK(answer(plane, 0.03 * inch, seed, cloud) == flat);
      SurveyPoints read = survey_of(grid_places(4 * inch, 24 * inch),
                                    [&](double x, double y) { return std::round(plane(x, y) / inch * 16) / 16 * inch; });
      read.step = inch / 16;
      read.under_rim = !cloud;
      CHECK(answer(read) == flat);
    }
  }
}

TEST_CASE("a saddle and a warped plate are no dish") {
  CHECK(answer([](double x, double y) { return (x * x - y * y) / 10; }, 1e-4, 1, false) == flat);
  CHECK(answer([](double x, double y) { return x * y / 5; }, 1e-4, 1, false) == flat);
}

TEST_CASE("shallow dishes and troughs are dishes") {
  // Sag of 0.24 in over 48 in, focal length 12.5 widths, read to 0.03 in; a trough of the same curve.
  CHECK(answer([](double x, double y) { return (x * x + y * y) / (4 * 600 * inch); }, 0.03 * inch, 1, false) == "a dish");
  CHECK(answer([](double x, double) { return x * x / (4 * 600 * inch); }, 0.03 * inch, 1, false) == "a dish");
  // A long mirror, read finely: focal length 50 widths.
  CHECK(answer([](double x, double y) { return (x * x + y * y) / (4 * 2400 * inch); }, 1e-5, 1, true) == "a dish");
}

TEST_CASE("the bend's stated error covers") {
  int within = 0;
  const double truth = 1 / (2 * 24 * inch);
  for (unsigned seed = 0; seed < 100; ++seed) {
    SurveyPoints points =
        survey_of(grid_places(4 * inch, 24 * inch), [](double x, double y) { return (x * x + y * y) / (4 * 24 * inch); });
    add_noise(points, 0.02 * inch, seed);
    const Bend bend = bend_of(bowl_frame(points, all_of(points)), points);
    within += std::abs(bend.mean - truth) < 2 * bend.error ? 1 : 0;
  }
  // Least deviations spread by 1.25 times as much as least squares: 89 of 100 within two of its errors (normal); 3.3 binomial
  // deviations below: 78.
  CHECK(within >= 78);
}

TEST_CASE("a dome is told") {
  const std::string words = answer([](double x, double y) { return -(x * x + y * y) / (4 * 24 * inch); }, 0.2 * inch, 1, false);
  CHECK(words == "the readings are a dome, not a dish: the middle is the shallowest");
  // A cloud has no upper side: the same points are a dish from below.
  CHECK(answer([](double x, double y) { return -(x * x + y * y) / (4 * 24 * inch); }, 0.02 * inch, 1, true) == "a dish");
}

TEST_CASE("one slip of 10000 in, in depth or in place, is set aside and the dish is found") {
  for (int axis = 0; axis < 3; ++axis) {
    SurveyPoints points = survey_of(grid_places(4 * inch, 24 * inch),
                                    [](double x, double y) { return (x * x + y * y) / (4 * 24 * inch) - 6 * inch; });
    add_noise(points, 0.02 * inch, 1);
    points.points[40][axis] = -10000 * inch;
    const Survey survey = survey_points(points, ShapeKind::paraboloid, false);
    CAPTURE(axis);
    REQUIRE(survey.set_aside.size() == 1);
    CHECK(survey.set_aside[0].index == 40);
    CHECK(survey.figures.focal_length.value == testing::approx(24 * inch).epsilon(0.005));
  }
}

TEST_CASE("a bowl on its side, and a rim beyond the end of a sphere, are no mirror") {
  // The opening of y² + z² = 2 x read as a depth over x, y: two depths at each place.
  SurveyPoints side;
  side.under_rim = true;
  for (int i = -3; i <= 3; ++i) {
    for (int j = -3; j <= 3; ++j) side.points.emplace_back((i * i + j * j) / 18.0 + 1e-3 * j, i / 3.0, j / 3.0);
  }
  CHECK(answer(side) != "a dish");
  const auto ball = [](double x, double y) { return -std::sqrt(0.09 - x * x - y * y); };
  const Survey survey =
      survey_points(survey_of(ring_places({0.05, 0.1, 0.15, 0.2, 0.25, 0.28}, 12), ball), ShapeKind::sphere, false);
  CHECK_NOTHROW(measured_mirror(survey, {0.56, 0, 0}));
  CHECK_THROWS_AS(measured_mirror(survey, {0.64, 0, 0}), InputError);
}
