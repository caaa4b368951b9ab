// SPDX-License-Identifier: MIT
#include "quadrature/narrow_kernel.h"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <numbers>

#include "base/quadrature_rule.h"
#include "quadrature/sun_kernel.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double far_k = 5.5, far_r = 5.5;  // widths at which a Gaussian, and its transform, are done with: e^−15
constexpr double steps_a_width = 12;        // straight pieces between them are wrong by 2e-4 of the disc's level
constexpr double step_error = 2e-4;
constexpr int kept = NarrowKernel::harmonics;

/// J0, J2, J4, J6 of x >= 0 to 1e-7.
std::array<double, kept> even_bessel(double x) {
  if (x < 0.1) {
    const double q = x * x / 4;  // the first two terms of the series
    return {1 - q + q * q / 4, q / 2 * (1 - q / 3), q * q / 24, q * q * q / 720};
  }
  const double j0 = ::j0(x), j1 = ::j1(x);
  const double j2 = 2 * j1 / x - j0, j3 = 4 * j2 / x - j1, j4 = 6 * j3 / x - j2, j5 = 8 * j4 / x - j3;
  return {j0, j2, j4, 10 * j5 / x - j4};
}

/// e^(−x) I_m(x) of x >= 0 and m <= 4, where either factor alone may be no double any more. Beyond 500 by its expansion for large x
/// (Hankel's [dlmf], 10.40.1), whose first term left out is below 1e-9.
double scaled_bessel_i(int m, double x) {
  if (x <= 500) return std::exp(-x) * boost::math::cyl_bessel_i(m, x);
  const double order = 4.0 * m * m;
  double term = 1, sum = 1;
  for (int k = 1; k <= 4; ++k) {
    term *= -(order - (2 * k - 1) * (2 * k - 1)) / (k * 8 * x);
    sum += term;
  }
  return sum / std::sqrt(2 * pi * x);
}

/// Chebyshev's places of cos² i from the steepest to 1; as many as the nearness of its singular place, 0, asks for (1e-5).
std::vector<double> places_of_squares(double lowest) {
  const double middle = (1 + lowest) / 2, half = (1 - lowest) / 2;
  if (half < 1e-6) return {middle};
  const double far = middle / half, growth = far + std::sqrt(far * far - 1);  // of the ellipse that touches 0
  const int count = std::clamp(static_cast<int>(std::ceil(std::log(1e5) / std::log(growth))), 2, 14);
  std::vector<double> places;
  places.reserve(static_cast<std::size_t>(count));
  for (int k = 0; k < count; ++k) places.push_back(middle + half * std::cos(pi * (k + 0.5) / count));
  return places;
}

/// Wave numbers with their weights, times the disc's transform there, times k/2π.
struct Waves {
  std::vector<double> k, weight;
};

Waves waves_of(const SunRings& rings, double highest, double reach) {
  // The integrand swings no faster than k (r + the disc's edge): 16 points of a panel follow 16 rad of that.
  const Rule rule = gauss_rule(std::max(32, static_cast<int>(std::ceil(highest * (reach + rings.edge)))));
  Waves out;
  for (std::size_t i = 0; i < rule.at.size(); ++i) {
    const double k = highest * rule.at[i];
    double transform = 0;
    for (std::size_t j = 0; j < rings.share.size(); ++j) transform += rings.share[j] * ::j0(k * rings.tangent[j]);
    out.k.push_back(k);
    out.weight.push_back(highest * rule.weight[i] * transform * k / (2 * pi));
  }
  return out;
}

}  // namespace

NarrowKernel::NarrowKernel(const Sun& sun, double slope, double spread, double steepest) {
  const auto variance_across = [&](double square) { return 4 * slope * slope * square + spread * spread; };
  const double along = variance_across(1), narrowest = std::sqrt(variance_across(steepest * steepest));
  const SunRings rings = sun_rings(sun, 24);
  const double step = narrowest / steps_a_width;
  const int rows = static_cast<int>((rings.edge + far_r * std::sqrt(along)) / step) + 1;
  edge_ = rows * step, per_step_ = static_cast<float>(1 / step), variance_ = rings.variance;
  const Waves waves = waves_of(rings, far_k / narrowest, edge_);
  squares_ = places_of_squares(steepest * steepest);
  // Weights of each harmonic at each wave number, by table; and how much the first harmonic left out could add.
  std::vector<std::vector<std::array<double, kept>>> weights(squares_.size());
  double left_out = 0, middle = 0;
  for (std::size_t t = 0; t < squares_.size(); ++t) {
    const double across = variance_across(squares_[t]), mean = (along + across) / 4, unlike = (along - across) / 4;
    double most = 0, level = 0;
    for (std::size_t i = 0; i < waves.k.size(); ++i) {
      const double square = waves.k[i] * waves.k[i], fall = std::exp(-square * (mean - unlike)) * waves.weight[i];
      std::array<double, kept> one{};
      for (int m = 0; m < kept; ++m)
        one[static_cast<std::size_t>(m)] = (m == 0 ? 1 : 2) * fall * scaled_bessel_i(m, square * unlike);
      weights[t].push_back(one);
      most += 2 * 0.3 * std::abs(fall) * scaled_bessel_i(kept, square * unlike);  // |J8| <= 0.3
      level += one[0];
    }
    if (most > left_out) left_out = most, middle = level;
  }
  error_ = step_error + (middle > 0 ? left_out / middle : 0);
  // Sums over the wave numbers, row by row.
  tables_.assign(squares_.size(), std::vector<float>(static_cast<std::size_t>(rows * kept), 0));
  std::vector<std::array<double, kept>> sums(squares_.size());
  for (int row = 0; row < rows; ++row) {
    std::fill(sums.begin(), sums.end(), std::array<double, kept>{});
    for (std::size_t i = 0; i < waves.k.size(); ++i) {
      const std::array<double, kept> bessel = even_bessel(waves.k[i] * row * step);
      for (std::size_t t = 0; t < squares_.size(); ++t) {
        for (std::size_t m = 0; m < kept; ++m) sums[t][m] += weights[t][i][m] * bessel[m];
      }
    }
    for (std::size_t t = 0; t < squares_.size(); ++t)
      std::copy(sums[t].begin(), sums[t].end(), tables_[t].begin() + static_cast<std::ptrdiff_t>(row) * kept);
  }
}

std::vector<float> NarrowKernel::table(double cosine) const {
  const double square = cosine * cosine;
  // Lagrange's weights of the tables.
  std::vector<double> shares(squares_.size(), 1);
  for (std::size_t t = 0; t < squares_.size(); ++t) {
    for (std::size_t other = 0; other < squares_.size(); ++other) {
      if (other != t) shares[t] *= (square - squares_[other]) / (squares_[t] - squares_[other]);
    }
  }
  const std::size_t count = tables_.front().size();
  std::vector<float> out(count + 2 * kept, 0.0F);
  for (std::size_t t = 0; t < tables_.size(); ++t) {
    const float share = static_cast<float>(shares[t]);
    const float* table = tables_[t].data();
    for (std::size_t i = 0; i < count; ++i) out[i] += share * table[i];
  }
  return out;
}

}  // namespace dishwright
