// SPDX-License-Identifier: MIT
#include "survey/slope_map.h"

#include <doctest/doctest.h>

#include <array>
#include <functional>

#include "approx.h"
#include "survey/measured_surface.h"
#include "survey/survey.h"
#include "survey/synthetic.h"
#include "survey/uses.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

constexpr double inch = 0.0254;

SlopeMap map_of(const SurveyPoints& survey) {
  return slope_map(survey, all_of(survey), fit_shape(survey, all_of(survey), ShapeKind::paraboloid));
}

/// A dish so long in focus that a wave's slope along z is its slope in the tangent plane.
double shallow(double x, double y) { return (x * x + y * y) / (4 * 6.0); }

}  // namespace

TEST_CASE("waviness of known amplitude and period gives its known rms slope") {
  // z = a cos(2π x / period): rms slope 2π a / (√2 period) along x, none along y.
  for (const double spacing : {1.0, 2.0}) {
    const double amplitude = 2e-3, period = 16 * inch, truth = 2 * std::numbers::pi * amplitude / (std::numbers::sqrt2 * period);
    SurveyPoints survey = survey_of(grid_places(spacing * inch, 24 * inch), [&](double x, double y) {
      return shallow(x, y) + amplitude * std::cos(2 * std::numbers::pi * x / period);
    });
    add_noise(survey, 5e-4, 3);
    const SlopeMap map = map_of(survey);
    CAPTURE(spacing);
    // 5 %: without taking the scatter out x would be 1.5 % to 7 % high and y 4 to 7 mrad; smoothing too hard would lose 16 %.
    CHECK(map.rms_x.value == testing::approx(truth).epsilon(0.05));
    CHECK(map.rms_y.value < 2 * map.rms_y.std_error.value_or(0));
    CHECK(map.rms.value == testing::approx(truth / std::numbers::sqrt2).epsilon(0.05));
    // The map itself: fitted slope and lean together are the slope x/12 − (2π a/period) sin(2π x/period) of the surface.
    const PlacedShape shape = fit_shape(survey, all_of(survey), ShapeKind::paraboloid).shape;
    double miss = 0;
    for (std::size_t i = 0; i < map.samples.size(); ++i) {
      const double x = shape.from_own(map.samples[i].foot).x();
      const double expected = x / 12 - 2 * std::numbers::pi * amplitude / period * std::sin(2 * std::numbers::pi * x / period);
      const Eigen::Vector2d own = own_slope(shape.kind, shape.size, map.samples[i].place.x(), map.samples[i].place.y());
      const Vector3 normal = shape.turn * Vector3(-own.x() - map.points[i].slope_x, -own.y() - map.points[i].slope_y, 1);
      miss += map.samples[i].share * std::pow(-normal.x() / normal.z() - expected, 2);
    }
    CHECK(std::sqrt(miss) < 0.35 * truth);
  }
}

TEST_CASE("only scatter: the rms slope is zero within its error") {
  for (const unsigned seed : {1U, 2U, 3U, 4U}) {
    SurveyPoints survey = survey_of(grid_places(2 * inch, 24 * inch), [](double x, double y) { return (x * x + y * y) / 2.4; });
    add_noise(survey, 5e-4, seed);
    const SlopeMap map = map_of(survey);
    // The ± is a root's: what is normal is the mean square.
    const double up = map.rms.value + map.rms.std_error.value_or(0), square = map.rms.value * map.rms.value;
    CHECK(square <= 2 * (up * up - square));
    CHECK(map.reading_scatter == testing::approx(5e-4).epsilon(0.1));
    CHECK(map.raw_rms.value > 5e-4);
  }
}

TEST_CASE("readings rounded to 1/16 in: the slope noise between neighbours") {
  // Two rounding errors of 1/16/√12 in, √2 of it over the spacing: 25, 8.5 and 6.4 mrad at 1, 3 and 4 in.
  CHECK(rounding_slope_noise(inch / 16, 1 * inch) == testing::approx(25.5e-3).epsilon(0.02));
  CHECK(rounding_slope_noise(inch / 16, 3 * inch) == testing::approx(8.5e-3).epsilon(0.01));
  CHECK(rounding_slope_noise(inch / 16, 4 * inch) == testing::approx(6.4e-3).epsilon(0.01));
  // Against doing it: heights of a dish rounded, slopes from one reading to the next.
  for (const double spacing : {1.0, 3.0, 4.0}) {
    double sum = 0;
    int count = 0;
    // A focal length at which the heights are no multiples of the step, which would all be rounded alike.
    const auto exact = [](double x, double y) { return (x * x + y * y) / (4 * 17.3 * inch); };
    const auto rounded = [&](double x, double y) { return std::round(exact(x, y) * 16 / inch) * inch / 16; };
    for (int k = 0; k < 400; ++k) {
      for (double x = -18 * inch; x < (18 - spacing) * inch; x += spacing * inch) {
        const double y = (k - 200) * 0.09 * inch, next = x + spacing * inch;
        sum += std::pow(((rounded(next, y) - exact(next, y)) - (rounded(x, y) - exact(x, y))) / (spacing * inch), 2);
        ++count;
      }
    }
    CHECK(std::sqrt(sum / count) == testing::approx(rounding_slope_noise(inch / 16, spacing * inch)).epsilon(0.12));
  }
}

TEST_CASE("a true dish read to 1/16 in is not called wavy") {
  for (const double spacing : {2.0, 3.0, 4.0}) {
    SurveyPoints survey = survey_of(grid_places(spacing * inch, 24 * inch), [](double x, double y) {
      return std::round((x * x + y * y) / (4 * 24 * inch) * 16 / inch) * inch / 16;
    });
    survey.step = inch / 16;
    const SlopeMap map = map_of(survey);
    CHECK(map.rms.value <= 2 * map.rms.std_error.value_or(0));
    CHECK(map.half_path_rms.value < 2.5e-4);
  }
}

TEST_CASE("half-path rms of a known wave") {
  // Shallow dish: half the path error is the height; rms of a cosine is a/√2.
  const double amplitude = 1e-3;
  SurveyPoints survey = survey_of(grid_places(1 * inch, 24 * inch), [&](double x, double y) {
    return shallow(x, y) + amplitude * std::cos(2 * std::numbers::pi * x / (8 * inch));
  });
  CHECK(map_of(survey).half_path_rms.value == testing::approx(amplitude / std::numbers::sqrt2).epsilon(0.03));
}

TEST_CASE("worst spots: a known hump and a known dent, where they are and how wide") {
  const auto surface = [](double x, double y) {
    const double hump = std::hypot(x - 0.25, y) / 0.12, dent = std::hypot(x + 0.2, y - 0.2) / 0.16;
    double z = (x * x + y * y) / 2.4;
    if (hump < 1) z += 4e-3 * std::pow(std::cos(std::numbers::pi / 2 * hump), 2);
    if (dent < 1) z -= 6e-3 * std::pow(std::cos(std::numbers::pi / 2 * dent), 2);
    return z;
  };
  SurveyPoints survey = survey_of(grid_places(0.03, 0.6), surface);
  add_noise(survey, 2e-4, 9);
  const Survey found = survey_points(survey, ShapeKind::paraboloid, false);
  CHECK(found.set_aside.empty());
  REQUIRE(found.spots.size() >= 2);
  CHECK(found.spots[0].height == testing::approx(-6e-3).epsilon(0.12));
  CHECK((found.spots[0].place - Eigen::Vector2d(-0.2, 0.2)).norm() < 0.03);
  CHECK(found.spots[0].across == testing::approx(0.16).epsilon(0.2));  // cos² falls to half at half its radius
  CHECK(found.spots[1].height == testing::approx(4e-3).epsilon(0.15));
  CHECK((found.spots[1].place - Eigen::Vector2d(0.25, 0)).norm() < 0.03);
}

TEST_CASE("the measured surface: heights near the truth, slopes that belong to them") {
  const auto surface = [](double x, double y) {
    return (x * x + y * y) / 2.4 + 2e-3 * std::cos(2 * std::numbers::pi * x / 0.5) - 0.1;
  };
  const SurveyPoints survey = survey_of(grid_places(0.04, 0.6), surface);
  const Survey found = survey_points(survey, ShapeKind::paraboloid, false);
  const MeasuredSurface& measured = *found.surface;
  double worst_height = 0, worst_slope = 0;
  for (int k = 0; k < 500; ++k) {
    const double x = 0.5 * std::sin(1.3 * k), y = 0.5 * std::sin(2.1 * k + 1);
    if (!measured.covers(x, y) || std::hypot(x, y) > 0.5) continue;
    worst_height =
        std::max(worst_height, std::abs(measured.height(x, y) - measured.height(0, 0) - (surface(x, y) - surface(0, 0))));
    const double step = 1e-6;
    const Eigen::Vector2d by_step((measured.height(x + step, y) - measured.height(x - step, y)) / (2 * step),
                                  (measured.height(x, y + step) - measured.height(x, y - step)) / (2 * step));
    worst_slope = std::max(worst_slope, (measured.slope(x, y) - by_step).norm());
  }
  CHECK(worst_height < 3e-4);
  CHECK(worst_slope < 1e-7);
}

TEST_CASE("radio: loss against Ruze's formula, and the verdicts around the limit") {
  // J. Ruze, Proc. IEEE 54 (1966) 633: 1/16 of a wavelength costs 2.678947 dB, 1/32 0.669737 dB.
  const double light_speed = 299'792'458, wavelength = 0.03, frequency = light_speed / wavelength;
  CHECK(wave_use("x", frequency, light_speed, {wavelength / 16, 0, "m"}).loss.value == testing::approx(-2.678947).epsilon(1e-6));
  CHECK(wave_use("x", frequency, light_speed, {wavelength / 32, 0, "m"}).loss.value == testing::approx(-0.669737).epsilon(1e-6));
  CHECK(wave_use("x", frequency, light_speed, {wavelength / 20, 1e-5, "m"}).verdict == Verdict::pass);
  CHECK(wave_use("x", frequency, light_speed, {wavelength / 10, 1e-5, "m"}).verdict == Verdict::fail);
  CHECK(wave_use("x", frequency, light_speed, {wavelength / 16.2, 1e-4, "m"}).verdict == Verdict::too_close);
  CHECK(judge({0.93, 0.01, "1"}, 0.9, true) == Verdict::pass);
  CHECK(judge({0.91, 0.01, "1"}, 0.9, true) == Verdict::too_close);
  CHECK(judge({0.87, 0.01, "1"}, 0.9, true) == Verdict::fail);
}

TEST_CASE("what a fitted shape takes up of errors is the small change that made them") {
  // Distances of places on a shape that was moved a little, from the shape as it was: all of them is taken up, and the surface is
  // the moved one.
  struct Kind {
    ShapeKind kind;
    std::function<double(double, double)> height;
    FitVector change;
  };
  const double f = 24 * inch, radius = 48 * inch;
  FitVector bowl = FitVector::Zero(), ball = bowl, trough = bowl;
  bowl << 2e-4, 3e-4, -2e-4, 1e-4, 1e-3, -2e-3, 0;
  ball << 2e-4, 3e-4, -2e-4, 1e-4, 0, 0, 0;
  trough << 2e-4, 3e-4, 0, 1e-4, 5e-4, -1e-3, 3e-4;
  const std::array<Kind, 3> kinds = {
      {{ShapeKind::paraboloid, [&](double x, double y) { return (x * x + y * y) / (4 * f); }, bowl},
       {ShapeKind::sphere, [&](double x, double y) { return radius - std::sqrt(radius * radius - x * x - y * y); }, ball},
       {ShapeKind::trough, [&](double x, double) { return x * x / (4 * f); }, trough}}};
  for (const Kind& one : kinds) {
    CAPTURE(shape_kind_word(one.kind));
    const SurveyPoints points = survey_of(grid_places(4 * inch, 24 * inch), one.height);
    const ShapeFit fit = fit_shape(points, all_of(points), one.kind);
    const SlopeMap map = slope_map(points, all_of(points), fit);
    const PlacedShape made = moved(fit.shape, one.change);
    std::vector<double> errors;
    for (const SurveySample& sample : map.samples)
      errors.push_back(-nearest_foot(made, made.to_own(fit.shape.from_own(sample.foot))).distance);
    const FitVector found = taken_up(fit.shape, map.samples, errors);
    // To the second order in the change, some (2e-3)² · 24 in.
    for (const double left : errors) CHECK(std::abs(left) < 1e-5);
    const MeasuredSurface was(points, fit, map), is = was.moved_by(found);
    const double level = height_at(made, 0, 0) - height_at(fit.shape, 0, 0);
    for (const Eigen::Vector2d& at : grid_places(7 * inch, 22 * inch)) {
      const double truth = height_at(made, at.x(), at.y()) - height_at(fit.shape, at.x(), at.y()) - level;
      CHECK(std::abs(is.height(at.x(), at.y()) - was.height(at.x(), at.y()) - truth) < 2e-5);
    }
  }
}
