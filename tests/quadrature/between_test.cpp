// SPDX-License-Identifier: MIT
// Fields drawn between the places of a thin grid, against the field itself.
#include "quadrature/between.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "approx.h"

using namespace dishwright;

namespace {

using Field = std::function<double(double x, double y)>;

std::vector<double> on(const PlaneGrid& grid, const Field& field) {
  std::vector<double> values;
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) values.push_back(field(grid.x(column), grid.y(row)));
  }
  return values;
}

/// A round Gaussian of height 1.
Field spot(double sigma, double x0, double y0) {
  return [=](double x, double y) { return std::exp(-((x - x0) * (x - x0) + (y - y0) * (y - y0)) / (2 * sigma * sigma)); };
}

double worst(const std::vector<double>& a, const std::vector<double>& b) {
  double most = 0;
  for (std::size_t k = 0; k < a.size(); ++k) most = std::max(most, std::abs(a[k] - b[k]));
  return most;
}

}  // namespace

// The field's own values between the places: 1e-6 a axis as the header says, and the rounding of single precision. With a window
// of 8 places instead of 10 it is 1e-5.
TEST_CASE("between thin places a Gaussian is drawn as it is, in the middle of the grid and cut by its edge") {
  const double sigma = 1.7e-3;
  for (const double step : {0.49, 0.24, 0.12, 0.07}) {
    const PlaneGrid fine{-0.02, -0.015, step * sigma, 0.8 * step * sigma, 131, 90};
    const ThinGrid thin = thin_grid(fine, sigma);
    CHECK(thin.every_x == std::min(8, static_cast<int>(0.5 / step)));
    CHECK(thin.grid.columns <= fine.columns);
    for (const double at : {0.0, 0.31, 1.0}) {
      const Field field =
          spot(sigma, fine.x_first + at * 130 * fine.step_x, fine.y_first + (1 - at) * 89 * fine.step_y + 0.13 * sigma);
      const std::vector<double> drawn = drawn_between(on(thin.grid, field), thin, fine);
      CAPTURE(step);
      CAPTURE(at);
      CHECK(worst(drawn, on(fine, field)) < 3e-6);
      CHECK(*std::min_element(drawn.begin(), drawn.end()) >= 0);
    }
  }
}

TEST_CASE("a grid without detail to spare stays as it is, and what is dark all about stays dark") {
  const PlaneGrid fine{0, 0, 1e-3, 1e-3, 120, 100};
  for (const double smooth : {0.0, 1e-3, 3.9e-3}) {
    const ThinGrid same = thin_grid(fine, smooth);
    CHECK(same.every_x == 1);
    CHECK(same.grid.columns == fine.columns);
    const std::vector<double> values = on(fine, spot(5e-3, 0.05, 0.05));
    CHECK(drawn_between(values, same, fine) == values);
  }
  // Light on the left half of the thin grid only.
  const ThinGrid thin = thin_grid(fine, 8e-3);
  REQUIRE(thin.every_x == 4);
  const std::vector<double> drawn =
      drawn_between(on(thin.grid, [](double x, double) { return x < 0.05 ? 1.0 : 0.0; }), thin, fine);
  CHECK(drawn[static_cast<std::size_t>(50 * fine.columns + 20)] == testing::approx(1).epsilon(1e-2));
  for (int column = 60; column < fine.columns; ++column) CHECK(drawn[static_cast<std::size_t>(50 * fine.columns + column)] == 0);
}
