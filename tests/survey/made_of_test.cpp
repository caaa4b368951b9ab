// SPDX-License-Identifier: MIT
// What the readings of a dish show of its making: flat petals, a pressed sheet, a twist.
#include "survey/made_of.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "approx.h"
#include "effort.h"
#include "survey/survey.h"
#include "survey/synthetic.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254, f = 24 * inch, pi = std::numbers::pi;
const std::vector<double> rings = {4 * inch, 8 * inch, 12 * inch, 16 * inch, 20 * inch, 23.5 * inch};

/// Flat petals whose first middle line lies at `phase`.
double petal_height(double x, double y, int count, double phase) {
  const double part = 2 * pi / count, middle = phase + std::round((std::atan2(y, x) - phase) / part) * part;
  return std::pow(x * std::cos(middle) + y * std::sin(middle), 2) / (4 * f);
}

SurveyPoints in_sixteenths(int clocks, const std::function<double(double, double)>& height, double scatter, unsigned seed) {
  SurveyPoints points = survey_of(ring_places(rings, clocks), height);
  if (scatter > 0) add_noise(points, scatter, seed);
  for (Vector3& point : points.points) point.z() = std::round(point.z() / inch * 16) / 16 * inch;
  points.step = inch / 16;
  return points;
}

int petals_of(const Survey& survey) {
  const Meant& made = survey.fit().shape.meant;
  return made && made->found ? made->pieces : 0;
}

}  // namespace

TEST_CASE("the N-fold part of flat petals is the Fourier coefficient of cos² over a petal") {
  for (const int count : {5, 6, 12, 31}) {
    double sum = 0;
    constexpr int steps = 20000;
    for (int k = 0; k < steps; ++k) {
      const double angle = pi / count * (2 * (k + 0.5) / steps - 1);
      sum += 2.0 / steps * std::pow(std::cos(angle), 2) * std::cos(count * angle);
    }
    CHECK(petal_harmonic(count) == testing::approx(sum).epsilon(1e-6));
  }
}

TEST_CASE("flat petals are named, however many and wherever their seams, before readings are called slips") {
  struct Made {
    int count, clocks;
    double phase;
  };
  for (const Made& made : {Made{6, 24, 0}, Made{8, 32, 0.2}, Made{12, 24, 0}, Made{12, 24, pi / 12}, Made{16, 32, 0}}) {
    const Survey found = survey_points(
        in_sixteenths(
            made.clocks, [&](double x, double y) { return petal_height(x, y, made.count, made.phase) - 6.02 * inch; },
            0.01 * inch, 3),
        ShapeKind::paraboloid, false);
    CAPTURE(made.count);
    CAPTURE(made.phase);
    CHECK(petals_of(found) == made.count);
    CHECK(found.set_aside.empty());
    CHECK(found.figures.focal_length.value == testing::approx(f).epsilon(0.01));
    CHECK(found.map.rms.value < 4e-3);
  }
}

TEST_CASE("round, leaning, wavy and dented dishes are not made of petals, nor pressed" * doctest::test_suite("slow")) {
  int told = 0;
  const int surveys = repeats(40);
  for (int k = 1; k <= surveys; ++k) {
    const auto seed = static_cast<unsigned>(k);
    const double lift = (6 + 0.0625 * k / surveys) * inch;
    const auto bowl = [&](double x, double y) { return (x * x + y * y) / (4 * f) - lift; };
    const auto wavy = [&](double x, double y) { return bowl(x, y) + 0.05 * inch * std::cos(2 * pi * x / (16 * inch)); };
    const auto dented = [&](double x, double y) {
      const double left = 1 - (std::pow(x - 0.3, 2) + y * y) / (0.12 * 0.12);
      return bowl(x, y) - 0.2 * inch * std::pow(std::max(0.0, left), 2);
    };
    const auto saddle = [&](double x, double y) { return bowl(x, y) + 0.02 * x * y; };
    for (const std::function<double(double, double)>& dish :
         {std::function<double(double, double)>(bowl), std::function<double(double, double)>(wavy),
          std::function<double(double, double)>(dented), std::function<double(double, double)>(saddle)}) {
      const Survey found = survey_points(in_sixteenths(24, dish, 0.02 * inch, seed), ShapeKind::paraboloid, false);
      CAPTURE(k);
      CAPTURE(found.fit().shape.word());
      CHECK_FALSE(found.fit().shape.kind == ShapeKind::meant);
      told += found.fits.best != ShapeKind::paraboloid ? 1 : 0;
    }
  }
  CHECK(told == 0);
}

TEST_CASE("a pressed sheet is told from a paraboloid") {
  const double radius = 24 * inch, depth = 3 * inch;
  const auto sheet = [&](double x, double y) {
    const double left = 1 - (x * x + y * y) / (radius * radius);
    return depth * (1 - left * left) - 3.03 * inch;
  };
  const Survey found = survey_points(in_sixteenths(12, sheet, 0.01 * inch, 2), ShapeKind::paraboloid, false);
  REQUIRE(found.fit().shape.kind == ShapeKind::meant);
  CHECK(found.fit().shape.meant->key == "pressed");
  CHECK(found.set_aside.empty());
  // Near the middle it is the paraboloid of R²/(8 depth).
  CHECK(found.figures.focal_length.value == testing::approx(radius * radius / (8 * depth)).epsilon(0.03));
}

TEST_CASE("two focal lengths: a small difference is taken off and not told, a large one is") {
  // z = x²/(4 f1) + y²/(4 f2): rms lean of the saddle about one axis (1/(2 f1) − 1/(2 f2))/2 · R/2.
  const auto dish = [](double part) {
    return survey_of(ring_places(rings, 12), [part](double x, double y) {
      return x * x / (4 * f * (1 - part)) + y * y / (4 * f * (1 + part)) - 6 * inch;
    });
  };
  const Survey slight = survey_points(dish(0.0045), ShapeKind::paraboloid, false),
               clear = survey_points(dish(0.02), ShapeKind::paraboloid, false);
  REQUIRE(slight.two.has_value());
  CHECK_FALSE(slight.two->matters);
  REQUIRE(clear.two.has_value());
  CHECK(clear.two->matters);
  const double bend = (1 / (2 * f * 0.98) - 1 / (2 * f * 1.02)) / 2;
  CHECK(clear.two->lean == testing::approx(bend * 23.5 * inch / 2).epsilon(1e-3));
  CHECK_FALSE(clear.two->is_twist());
}

TEST_CASE("a twist is told with its size and sign") {
  const double radius = 24 * inch;
  for (const double twist : {0.02, -0.015}) {
    SurveyPoints points = survey_of(ring_places(rings, 12), [&](double x, double y) {  // docs/flaws.md: twist · x y/R
      return (x * x + y * y) / (4 * f) + twist * x * y / radius - 6 * inch;
    });
    add_noise(points, 0.02 * inch, 4);
    const Survey found = survey_points(points, ShapeKind::paraboloid, false);
    REQUIRE(found.two.has_value());
    CHECK(found.two->matters);
    CHECK(found.two->is_twist());
    CHECK(std::abs(found.two->across.value * radius - twist) < 3 * *found.two->across.std_error * radius);
    CHECK(*found.two->across.std_error * radius < 2e-3);
  }
}
