// SPDX-License-Identifier: MIT
// Polynomials through counts: given one of the fourth degree, its own coefficients come back, from whole and from cut patches.
#include "tally/peak_surface.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "approx.h"

using namespace dishwright;

namespace {

constexpr int cells = 12;
constexpr std::array<std::array<int, 2>, surface_terms> powers = {
    {{0, 0}, {1, 0}, {0, 1}, {2, 0}, {1, 1}, {0, 2}, {3, 0}, {2, 1}, {1, 2}, {0, 3}, {4, 0}, {3, 1}, {2, 2}, {1, 3}, {0, 4}}};

double coefficient(int replicate, std::size_t term) { return std::sin(1.0 + 3 * replicate + static_cast<double>(term)); }

/// Mean over [a, b] of t^p.
double mean_power(double a, double b, int p) { return (std::pow(b, p + 1) - std::pow(a, p + 1)) / ((p + 1) * (b - a)); }

/// Cell means of a known polynomial in (u, v) of the patch, over the whole grid; `terms` of them.
Eigen::MatrixXd light_of(const SurfacePatch& patch, std::size_t terms, int replicates) {
  Eigen::MatrixXd light = Eigen::MatrixXd::Zero(replicates, cells * cells);
  for (int row = 0; row < cells; ++row) {
    for (int column = 0; column < cells; ++column) {
      const double u = (column - patch.middle_x) / patch.half_x, v = (row - patch.middle_y) / patch.half_y;
      for (std::size_t t = 0; t < terms; ++t) {
        const double mean =
            mean_power(u, u + 1 / patch.half_x, powers.at(t)[0]) * mean_power(v, v + 1 / patch.half_y, powers.at(t)[1]);
        for (int r = 0; r < replicates; ++r) light(r, row * cells + column) += coefficient(r, t) * mean;
      }
    }
  }
  return light;
}

SurfacePatch whole_patch() { return {0, 12, 0, 12, 6, 6, 6, 6}; }

}  // namespace

TEST_CASE("a surface of the fourth degree comes back from its cell means, for each replicate") {
  const SurfacePatch patch{2, 11, 1, 9, 6.5, 5, 4.5, 4};
  const Eigen::MatrixXd light = light_of(patch, surface_terms, 3);
  const std::vector<char> counts(cells * cells, 1);
  SurfaceFit fit(light, counts, cells);
  fit.take_columns(patch);
  const auto surface = fit.lay(patch);
  REQUIRE(surface);
  double sum = 0;
  for (int row = 1; row < 9; ++row) {
    for (int column = 2; column < 11; ++column) sum += light.col(row * cells + column).sum();
  }
  CHECK(surface->light == testing::approx(sum));
  for (int r = 0; r < 3; ++r) {
    for (std::size_t t = 0; t < surface_terms; ++t)
      CHECK(std::abs(surface->terms(r, static_cast<Eigen::Index>(t)) - coefficient(r, t)) <= 1e-9);
  }
}

TEST_CASE("the plain surface is the fourth-degree one where the light is of the second degree, with cells left out too") {
  const SurfacePatch patch = whole_patch();
  Eigen::MatrixXd light = light_of(patch, plain_terms, 2);
  std::vector<char> counts(cells * cells, 1);
  for (int row = 0; row < cells; ++row) {  // the face ends along a slanting line
    for (int column = 8 - row / 3; column < cells; ++column) {
      counts[static_cast<std::size_t>(row * cells + column)] = 0;
      light.col(row * cells + column).setZero();
    }
  }
  SurfaceFit fit(light, counts, cells);
  fit.take_columns(patch);
  const auto surface = fit.lay(patch);
  REQUIRE(surface);
  for (int r = 0; r < 2; ++r) {
    for (std::size_t t = 0; t < surface_terms; ++t) {
      const double truth = t < plain_terms ? coefficient(r, t) : 0;
      CHECK(std::abs(surface->terms(r, static_cast<Eigen::Index>(t)) - truth) <= 1e-8);
      CHECK(std::abs(surface->plain(r, static_cast<Eigen::Index>(t)) - truth) <= 1e-9);
    }
  }
}

TEST_CASE("too few cells, or cells in too few columns, determine no surface") {
  const SurfacePatch patch = whole_patch();
  const Eigen::MatrixXd light = Eigen::MatrixXd::Ones(2, cells * cells);
  std::vector<char> few(cells * cells, 0), lines(cells * cells, 0);
  for (std::size_t k = 0; k < 30; ++k) few[5 * k / 2] = 1;  // not more than two a term
  for (std::size_t row = 0; row < cells; ++row) {
    for (const std::size_t column : {1U, 5U, 9U, 10U}) lines[row * cells + column] = 1;  // a fourth degree needs five
  }
  for (const auto& counts : {few, lines}) {
    SurfaceFit fit(light, counts, cells);
    fit.take_columns(patch);
    CHECK(!fit.lay(patch));
  }
}

TEST_CASE("slopes of the terms are what small steps say") {
  SurfaceTerms terms;
  for (int t = 0; t < surface_terms; ++t) terms(t) = std::cos(2.0 + t);
  const double u = 0.4, v = -0.7, step = 1e-4;
  const auto height = [&](double at_u, double at_v) { return ellipse_means(at_u, at_v, 0, 0).dot(terms); };
  // Central differences: the third derivative, at most about 24, times step²/6: 4e-8.
  CHECK(std::abs(slope_terms(u, v, 0).dot(terms) - (height(u + step, v) - height(u - step, v)) / (2 * step)) <= 1e-7);
  CHECK(std::abs(slope_terms(u, v, 1).dot(terms) - (height(u, v + step) - height(u, v - step)) / (2 * step)) <= 1e-7);
}
