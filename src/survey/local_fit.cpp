// SPDX-License-Identifier: MIT
#include "survey/local_fit.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>

namespace dishwright {

namespace {

constexpr int most_terms = 10;  // of a cubic in two variables
using Terms = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, most_terms, 1>;
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
  if (!(reach > 0)) return out;
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
  out.good = pivots.minCoeff() > 1e-7 * pivots.maxCoeff();
  if (!out.good) return out;
  const Normal inverse = solver.solve(Normal::Identity(count, count));
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const Terms answer = weights[k] * (inverse * rows[k]);
    out.value.push_back(answer[0]);
    out.slope_u.push_back(answer[1] / reach);
    out.slope_v.push_back(answer[2] / reach);
  }
  return out;
}

}  // namespace dishwright
