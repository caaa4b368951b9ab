// SPDX-License-Identifier: MIT
#include "survey/design_error.h"
#include "survey/solvers.h"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <vector>

namespace dishwright {

double design_half_path(const MeantSurface& design) {
  constexpr int across = 100;
  const PlanOutline& plan = design.plan;
  const double wide = plan.high_x() - plan.low_x(), tall = plan.high_y() - plan.low_y(), unit = wide / 2;
  std::vector<Eigen::Vector4d> rows;
  std::vector<double> heights;
  Eigen::Matrix4d normal = Eigen::Matrix4d::Zero();
  Eigen::Vector4d right = Eigen::Vector4d::Zero();
  for (int i = 0; i < across * across; ++i) {
    const double x = plan.low_x() + wide * (i % across + 0.5) / across,
                 y = plan.low_y() + tall * (static_cast<int>(i / across) + 0.5) / across;
    if (!plan.covers(x, y)) continue;
    const HeightAt at = height_at(*design.heights, x, y);
    const double u = x / unit, v = y / unit, bend = plan.round ? u * u + v * v : u * u;
    const double weight = 1 / (1 + at.slope_x * at.slope_x + at.slope_y * at.slope_y);
    rows.push_back(weight * Eigen::Vector4d(1, u, v, bend)), heights.push_back(weight * at.height);
    normal += rows.back() * rows.back().transpose(), right += heights.back() * rows.back();
  }
  const Eigen::Vector4d terms = solved(normal, right);
  double sum = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) sum += std::pow(heights[i] - rows[i].dot(terms), 2);
  return std::sqrt(sum / std::max<double>(1, static_cast<double>(rows.size())));
}

}  // namespace dishwright
