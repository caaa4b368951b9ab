// SPDX-License-Identifier: MIT
#include "survey/local_fit.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>

namespace dishwright {

namespace {

constexpr int most_terms = 10;  // of a cubic in two variables
using Terms = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_terms, 1>;
/// Variance of a slope × reach² × readings for scatter 1: about 70 well inside evenly spread readings and up to 1900 at their
/// edge (cubics, tried on rings,
/// grids and half discs); places on too few lines have 5000 to 10 million.
constexpr double most_gain = 3000;
using Normal = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, most_terms, most_terms>;

Terms terms_at(double u, double v, int degree) {
  Terms out((degree + 1) * (degree + 2) / 2);
  double up = 1;  // v to the power j
  const std::array<double, 4> powers = {1, u, u * u, u * u * u};
  for (int j = 0; j <= degree; ++j, up *= v) {
    for (int order = j; order <= degree; ++order)
      out[order * (order + 1) / 2 + j] = powers[static_cast<std::size_t>(order - j)] * up;
  }
  return out;
}

}  // namespace

LocalWeights local_weights(const std::vector<std::size_t>& index, const std::vector<LocalPlace>& around, int degree) {
  LocalWeights out;
  out.index = index;
  double reach = 0;
  for (const LocalPlace& place : around) reach = std::max(reach, place.norm());
  if (!(reach > 0)) {
    // All of them lie in one place: their mean is all that there is to know.
    out.good = degree == 0;
    out.value.assign(index.size(), 1 / static_cast<double>(std::max<std::size_t>(1, index.size())));
    out.slope_u.assign(index.size(), 0), out.slope_v.assign(index.size(), 0);
    return out;
  }
  reach *= 1.05;
  const int count = (degree + 1) * (degree + 2) / 2;
  Normal normal = Normal::Zero(count, count);
  std::vector<Terms> rows;
  std::vector<double> weights;
  for (const LocalPlace& place : around) {
    rows.push_back(terms_at(place.x() / reach, place.y() / reach, degree));
    const double away = place.norm() / reach;
    const double left = 1 - away * away * away;
    weights.push_back(left * left * left);
    normal += weights.back() * rows.back() * rows.back().transpose();
  }
  const Eigen::LDLT<Normal> solver(normal);
  const auto pivots = solver.vectorD();
  out.good = pivots.allFinite() && pivots.minCoeff() > 1e-7 * pivots.maxCoeff();
  if (!out.good) return out;
  double gain = 0;  // variance of a slope for scatter 1, in units of 1/reach²
  const Normal inverse = solver.solve(Normal::Identity(count, count));
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const Terms answer = weights[k] * (inverse * rows[k]);
    out.value.push_back(answer[0]);
    out.slope_u.push_back(degree > 0 ? answer[1] / reach : 0);
    out.slope_v.push_back(degree > 0 ? answer[2] / reach : 0);
    gain += (out.slope_u.back() * out.slope_u.back() + out.slope_v.back() * out.slope_v.back()) / 2 * reach * reach;
  }
  // On rings a few readings may fix a polynomial only just. Scatter of one then grows far beyond what it does elsewhere.
  out.good = gain * static_cast<double>(rows.size()) <= most_gain;
  return out;
}

}  // namespace dishwright
