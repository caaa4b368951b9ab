// SPDX-License-Identifier: MIT
// Heights of flaws against their equations, slopes against differences of heights.
#include "shape/flaws.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace dishwright;

namespace {

constexpr double pi = std::numbers::pi, rim = 0.6;

struct Place {
  double height, slope_x, slope_y;
};

Place at(const HeightSurface& surface, double x, double y) {
  Place out{};
  surface.heights(1, &x, &y, &out.height, &out.slope_x, &out.slope_y);
  return out;
}

FlawedSurface flat_with(const Flaws& flaws) {
  return {std::make_shared<QuadricSurface>(Quadric<double>{0, 0, 0, 0.5, 0}), flaws, PlanOutline{true, 0, rim}};
}

void check_slopes(const HeightSurface& surface) {
  constexpr double step = 1e-6;
  for (int k = 0; k < 60; ++k) {
    const double r = 0.57 * std::sqrt((k + 0.5) / 60), turn = 2.399963 * k, x = r * std::cos(turn), y = r * std::sin(turn);
    const Place here = at(surface, x, y);
    CAPTURE(x);
    CAPTURE(y);
    CHECK(std::abs(here.slope_x - (at(surface, x + step, y).height - at(surface, x - step, y).height) / (2 * step)) < 1e-7);
    CHECK(std::abs(here.slope_y - (at(surface, x, y + step).height - at(surface, x, y - step).height) / (2 * step)) < 1e-7);
  }
}

Flaws wavy(double amplitude, double period, double direction) {
  Flaws flaws;
  flaws.waviness = Waviness{amplitude, period, direction};
  return flaws;
}

}  // namespace

TEST_CASE("flaws: slopes are those of the heights") {
  Flaws all = wavy(4e-4, 0.15, 0.7);
  all.twist = 0.02;
  all.rim_sag_x = 3e-3, all.rim_sag_y = -2e-3;
  all.scallop = Scallop{12, 3e-3};
  all.dents = {{0.1, -0.2, 0.3, 2e-3}, {-0.3, 0.1, 0.2, -1e-3}};
  check_slopes(flat_with(all));
  check_slopes(FlawedSurface(std::make_shared<QuadricSurface>(Quadric<double>{1, 1, 0, 1.2, 0}), all, PlanOutline{true, 0, rim}));
  check_slopes(QuadricSurface({1, 1, 1, 0.9, 0}));
  check_slopes(QuadricSurface({1, 1, -4, 0, 0}));
  check_slopes(QuadricSurface({1 / 1.1, 1 / 0.9, 0, 1.2, 0}));
}

// Rms of the derivative of a cosine of amplitude a: 2πa/(√2 period), over whole periods.
TEST_CASE("flaws: waves have the slope rms of a cosine, a crest at the vertex, and run along their direction") {
  const double amplitude = 5e-4, period = 0.1;
  const FlawedSurface surface = flat_with(wavy(amplitude, period, pi / 2));
  double sum = 0;
  const int count = 400;
  for (int k = 0; k < count; ++k) sum += std::pow(at(surface, 0.123, 3 * period * k / count).slope_y, 2);
  CHECK(std::sqrt(sum / count) == testing::approx(2 * pi * amplitude / (std::sqrt(2.0) * period)).epsilon(1e-9));
  CHECK(at(surface, 0, 0).height == testing::approx(amplitude));
  CHECK(at(surface, 0.3, period / 2).height == testing::approx(-amplitude));
  CHECK(at(surface, 0.3, 0.04).slope_x == testing::approx(0));
}

TEST_CASE("flaws: heights of twist, scallop, dent and bump where they are known") {
  Flaws flaws;
  flaws.twist = 0.02;
  CHECK(at(flat_with(flaws), rim / std::sqrt(2.0), rim / std::sqrt(2.0)).height == testing::approx(0.02 * rim / 2));
  CHECK(at(flat_with(flaws), -rim / std::sqrt(2.0), rim / std::sqrt(2.0)).height == testing::approx(-0.02 * rim / 2));
  CHECK(at(flat_with(flaws), rim, 0).slope_y == testing::approx(0.02));  // the saddle's slope at the rim
  flaws = {};
  flaws.scallop = Scallop{8, 4e-3};
  CHECK(at(flat_with(flaws), rim, 0).height == testing::approx(0));
  CHECK(at(flat_with(flaws), rim * std::cos(pi / 4), rim * std::sin(pi / 4)).height == testing::approx(0));
  CHECK(at(flat_with(flaws), rim * std::cos(pi / 8), rim * std::sin(pi / 8)).height == testing::approx(-4e-3));
  CHECK(at(flat_with(flaws), rim / 2 * std::cos(pi / 8), rim / 2 * std::sin(pi / 8)).height == testing::approx(-1e-3));
  flaws = {};
  flaws.dents = {{0.2, 0, 0.1, 3e-3}};
  CHECK(at(flat_with(flaws), 0.2, 0).height == testing::approx(-3e-3));
  CHECK(at(flat_with(flaws), 0.225, 0).height == testing::approx(-1.5e-3));
  CHECK(at(flat_with(flaws), 0.2, 0.0501).height == 0);
}

// Twisting a sheet about its own middle leaves its middle lines straight: height 0 and slope along them 0 there, ± t R/2 at 45°
// on the rim.
TEST_CASE("flaws: an outline off the axis is twisted about its own middle") {
  Flaws flaws;
  flaws.twist = 0.02;
  PlanOutline off{true, 0.1, rim};
  off.x_middle = -0.3, off.y_middle = 1.4;
  const FlawedSurface surface(std::make_shared<QuadricSurface>(Quadric<double>{0, 0, 0, 0.5, 0}), flaws, off);
  for (const double step : {-0.5, 0.2, 0.6}) {
    CHECK(std::abs(at(surface, -0.3 + step, 1.4).height) < 1e-15);
    CHECK(std::abs(at(surface, -0.3, 1.4 + step).height) < 1e-15);
  }
  const double corner = rim / std::sqrt(2.0);
  CHECK(at(surface, -0.3 + corner, 1.4 - corner).height == testing::approx(-0.02 * rim / 2));
  CHECK(at(surface, -0.3, 1.4 + rim).slope_x == testing::approx(0.02));
  check_slopes(surface);
  PlanOutline half;  // half of a trough: a rectangle that begins at the axis
  half.round = false, half.x_from = 0, half.x_to = 1, half.y_from = -1, half.y_to = 1;
  const FlawedSurface strip(std::make_shared<QuadricSurface>(Quadric<double>{0, 0, 0, 0.5, 0}), flaws, half);
  CHECK(std::abs(at(strip, 0.5, 0.7).height) < 1e-15);
  CHECK(at(strip, 1, 1).height == testing::approx(0.02 * 1 / 0.5 * 0.5 * 1));
}

// z = r²/(4 f) less sag (r/R)²: again a paraboloid, of f D/(D − sag), D = R²/(4 f) its rim depth.
TEST_CASE("flaws: a rim that hangs all round makes a paraboloid of a longer focal length") {
  constexpr double f = 0.5, depth = rim * rim / (4 * f), sag = 0.01, longer = f * depth / (depth - sag);
  Flaws flaws;
  flaws.rim_sag_x = flaws.rim_sag_y = sag;
  const auto bowl = [](double focal) { return std::make_shared<QuadricSurface>(Quadric<double>{1, 1, 0, 2 * focal, 0}); };
  const FlawedSurface hanging(bowl(f), flaws, PlanOutline{true, 0, rim});
  for (const double x : {-0.6, -0.2, 0.0, 0.35}) {
    for (const double y : {-0.4, 0.0, 0.1}) {
      const Place found = at(hanging, x, y), meant = at(*bowl(longer), x, y);
      CHECK(std::abs(found.height - meant.height) < 1e-15);
      CHECK(std::abs(found.slope_x - meant.slope_x) < 1e-15);
      CHECK(std::abs(found.slope_y - meant.slope_y) < 1e-15);
    }
  }
  CHECK(at(flat_with(flaws), rim, 0).height == testing::approx(-sag));
  // Along one axis only; of an outline beside the axis from its own middle.
  flaws.rim_sag_y = 0;
  CHECK(at(flat_with(flaws), 0, rim).height == 0);
  CHECK(at(flat_with(flaws), rim / 2, 0.1).height == testing::approx(-sag / 4));
}
