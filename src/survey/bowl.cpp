// SPDX-License-Identifier: MIT
#include "survey/bowl.h"
#include "survey/solvers.h"

#include <Eigen/Core>
#include <cmath>

namespace dishwright {

BowlTerms bowl_row(double x, double y) {
  BowlTerms row;
  row << 1, x, y, x * x, x * y, y * y;
  return row;
}

Bowl least_deviations(const std::vector<Vector3>& points, double size, double finest) {
  using Normal = Eigen::Matrix<double, 6, 6>;
  constexpr int rounds = 15;
  std::vector<double> weights(points.size(), 1);
  Bowl bowl;
  bowl.misses.resize(points.size());
  for (int round = 0; round < rounds; ++round) {
    Normal normal = Normal::Zero();
    BowlTerms right = BowlTerms::Zero();
    for (std::size_t i = 0; i < points.size(); ++i) {
      const BowlTerms row = bowl_row(points[i].x() / size, points[i].y() / size);
      normal += weights[i] * row * row.transpose();
      right += weights[i] * points[i].z() * row;
    }
    if (round == 0) {
      const Column<6> values = spectrum<6>(normal).values;
      bowl.condition = values[0] / values[5];
    }
    normal.diagonal().array() += 1e-9;  // places on a line or a circle leave terms open
    bowl.terms = solved(normal, right);
    for (std::size_t i = 0; i < points.size(); ++i) {
      bowl.misses[i] = points[i].z() - bowl_row(points[i].x() / size, points[i].y() / size).dot(bowl.terms);
      weights[i] = 1 / std::max(std::abs(bowl.misses[i]), finest);
    }
  }
  return bowl;
}

}  // namespace dishwright
