// SPDX-License-Identifier: MIT
#include "report/trace/map_smooth.h"
#include "approx.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <random>

using dishwright::map_grain;
using dishwright::MapFace;
using dishwright::smoothed_map;

namespace {

/// A Gaussian spot of the given width [bins] with relative noise, 80 × 80 bins.
MapFace spot(double sigma, double noise, bool round = false) {
  MapFace face;
  face.columns = face.rows = 80;
  face.x_to = face.y_to = 1;
  face.round = round;
  std::mt19937 engine(5);
  std::normal_distribution<double> normal(0, noise);
  for (int i = 0; i < 6400; ++i) {
    const double x = (i % 80 - 39.5) / sigma, y = (i / 80 - 39.5) / sigma;
    face.irradiance.push_back(1000 * std::exp(-(x * x + y * y) / 2) * (1 + normal(engine)));
  }
  return face;
}

double sum(const std::vector<double>& values) { return std::accumulate(values.begin(), values.end(), 0.0); }

}  // namespace

TEST_CASE("the grain is the noise that was put in") {
  for (const double noise : {0.02, 0.1, 0.3})
    CHECK(map_grain(spot(12, noise)) == dishwright::testing::approx(noise).epsilon(0.2));
  CHECK(map_grain(spot(12, 0)) < 1e-3);
}

TEST_CASE("a calm map stays raw; a grainy one loses its grain, not its light and not its shape") {
  CHECK(smoothed_map(spot(12, 0.02)).blur == 0);
  CHECK(smoothed_map(spot(12, 0.02)).irradiance == spot(12, 0.02).irradiance);
  const MapFace grainy = spot(12, 0.1), clean = spot(12, 0);
  const auto calm = smoothed_map(grainy);
  CHECK(calm.blur > 0.5);
  CHECK(calm.blur < 2.5);
  CHECK(sum(calm.irradiance) == dishwright::testing::approx(sum(grainy.irradiance)).epsilon(1e-3));
  double worst = 0;
  for (std::size_t i = 0; i < 6400; ++i) worst = std::max(worst, std::fabs(calm.irradiance[i] - clean.irradiance[i]));
  CHECK(worst < 130);  // 4 standard errors of 3 %, and less than the raw map's 300 or so
}

TEST_CASE("the blur has a limit, edges do not darken, and empty maps are left alone") {
  CHECK(smoothed_map(spot(30, 0.8)).blur <= 2.45);
  MapFace even = spot(1e9, 0.2, true);
  for (int i = 0; i < 6400; ++i) {
    const double u = (i % 80 + 0.5) / 40 - 1, v = (i / 80 + 0.5) / 40 - 1;
    if (u * u + v * v > 1) even.irradiance[static_cast<std::size_t>(i)] = 0;
  }
  const auto calm = smoothed_map(even);
  double edge = 0;
  int count = 0;
  for (int i = 0; i < 6400; ++i) {
    const double u = (i % 80 + 0.5) / 40 - 1, v = (i / 80 + 0.5) / 40 - 1, r = std::sqrt(u * u + v * v);
    if (r > 1) CHECK(calm.irradiance[static_cast<std::size_t>(i)] == 0);
    if (r > 0.96 && r <= 1) edge += calm.irradiance[static_cast<std::size_t>(i)], ++count;
  }
  CHECK(edge / count == dishwright::testing::approx(1000).epsilon(0.03));
  MapFace dark = spot(12, 0);
  dark.irradiance.assign(6400, 0);
  CHECK(smoothed_map(dark).blur == 0);
  MapFace tiny;
  tiny.columns = tiny.rows = 1;
  tiny.x_to = tiny.y_to = 1;
  tiny.irradiance = {3};
  CHECK(smoothed_map(tiny).irradiance == tiny.irradiance);
}
