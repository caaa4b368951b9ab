// SPDX-License-Identifier: MIT
// Random surfaces against the laws that they are drawn from.
#include "shape/random_heights.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>

#include "approx.h"
#include "shape/flaws.h"

using namespace dishwright;

namespace {

constexpr double rms = 1e-3, correlation = 0.05;
const PlanOutline disk{true, 0, 0.5};

template <typename Tell>
void over_plan(const PlanOutline& plan, double step, const Tell& tell) {
  for (double y = plan.low_y() + step / 2; y < plan.high_y(); y += step) {
    for (double x = plan.low_x() + step / 2; x < plan.high_x(); x += step) {
      if (plan.covers(x, y)) tell(x, y);
    }
  }
}

}  // namespace

TEST_CASE("each random surface has the stated rms and no mean, over its plan") {
  PlanOutline strip;
  strip.round = false, strip.x_from = -0.3, strip.x_to = 0.3, strip.y_from = -0.8, strip.y_to = 0.8;
  PlanOutline ring{true, 0.1, 0.5};
  ring.y_middle = 0.7;
  for (const PlanOutline& plan : {disk, strip, ring}) {
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
      const HeightGrid grid = random_half_paths({rms, correlation, seed}, plan);
      double sum = 0, squares = 0, count = 0;
      over_plan(plan, 0.004, [&](double x, double y) {
        const double height = grid.at(x, y).height;
        sum += height, squares += height * height, count += 1;
      });
      CHECK(std::abs(sum / count) < 0.02 * rms);
      CHECK(std::sqrt(squares / count) == testing::approx(rms).epsilon(0.01));
    }
  }
}

// A normal random surface with the correlation exp(−r²/c²) has slopes of rms √2 ε/c along each axis (second derivative of the
// correlation at 0) and a fourth moment of 3 ε⁴.
TEST_CASE("correlation, slopes and fourth moment of random surfaces, mean over 100 seeds") {
  constexpr int seeds = 100;
  double at_half = 0, at_one = 0, slopes_x = 0, slopes_y = 0, fourth = 0, count = 0;
  for (std::uint64_t seed = 1; seed <= seeds; ++seed) {
    const HeightGrid grid = random_half_paths({rms, correlation, seed}, disk);
    over_plan({true, 0, 0.4}, 0.02, [&](double x, double y) {
      const GridHeight here = grid.at(x, y);
      at_half += here.height * grid.at(x + 0.5 * correlation, y).height;
      at_one += here.height * (grid.at(x, y - correlation).height + grid.at(x + correlation, y).height) / 2;
      slopes_x += here.slope_x * here.slope_x, slopes_y += here.slope_y * here.slope_y;
      fourth += std::pow(here.height, 4), count += 1;
    });
  }
  const double variance = rms * rms, slope_rms = std::sqrt(2) * rms / correlation;
  CHECK(at_half / count / variance == testing::approx(std::exp(-0.25)).epsilon(0.02));
  // Each surface's own mean and rms are taken off, so far places agree by 1 to 2 % less than the law says.
  CHECK(std::abs(at_one / count / variance - std::exp(-1)) < 0.025);
  CHECK(std::sqrt(slopes_x / count) == testing::approx(slope_rms).epsilon(0.02));
  CHECK(std::sqrt(slopes_y / count) == testing::approx(slope_rms).epsilon(0.02));
  CHECK(fourth / count / (variance * variance) == testing::approx(3).epsilon(0.05));
}

TEST_CASE("on a bowl the heights are half-paths over the square of the cosine of incidence, slopes included, up to a steep rim") {
  // Paraboloid: 1 + slope² = 1 + r²/(4f²), f = 0.4. Ball of R = 0.53, so that the rim lies at 0.94 R: 1 + slope² = R²/(R² − r²),
  // up to 9.
  constexpr double f = 0.4, ball = 0.53;
  const auto check = [](const Quadric<double>& quadric, const std::function<double(double r2)>& steepness) {
    const auto bowl = std::make_shared<QuadricSurface>(quadric);
    Flaws flaws;
    flaws.roughness = Roughness{rms, 3 * correlation, 3};
    const FlawedSurface rough(bowl, flaws, disk);
    const HeightGrid half_paths = random_half_paths(*flaws.roughness, disk);
    double worst = 0, worst_slope = 0;
    over_plan(disk, 0.013, [&](double x, double y) {
      const double step = 1e-6, r2 = x * x + y * y;
      const double xs[] = {x, x + step, x - step, x, x}, ys[] = {y, y, y, y + step, y - step};
      double h[5], slope_x[5], slope_y[5], smooth[5], ignored_x[5], ignored_y[5];
      rough.heights(5, xs, ys, h, slope_x, slope_y);
      bowl->heights(5, xs, ys, smooth, ignored_x, ignored_y);
      worst = std::max(worst, std::abs(h[0] - smooth[0] - half_paths.at(x, y).height * steepness(r2)));
      worst_slope = std::max(
          {worst_slope, std::abs((h[1] - h[2]) / (2 * step) - slope_x[0]), std::abs((h[3] - h[4]) / (2 * step) - slope_y[0])});
    });
    CHECK(worst < 1e-9);  // of 9e-3
    CHECK(worst_slope < 2e-6);
  };
  check({1, 1, 0, 2 * f, 0}, [&](double r2) { return 1 + r2 / (4 * f * f); });
  check({1, 1, 1, ball, 0}, [&](double r2) { return ball * ball / (ball * ball - r2); });
}

TEST_CASE("the same seed is the same dish, another one another") {
  const HeightGrid a = random_half_paths({rms, correlation, 7}, disk), b = random_half_paths({rms, correlation, 7}, disk),
                   c = random_half_paths({rms, correlation, 8}, disk);
  double other = 0;
  over_plan(disk, 0.05, [&](double x, double y) {
    CHECK(a.at(x, y).height == b.at(x, y).height);
    other = std::max(other, std::abs(a.at(x, y).height - c.at(x, y).height));
  });
  CHECK(other > rms);
}
