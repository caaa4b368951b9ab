// SPDX-License-Identifier: MIT
#include "survey/meant_surface.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace dishwright {

namespace {

constexpr double margin = 1.01;  // of the half width: heights go on smoothly that far

double half_width(const PlanOutline& plan) { return (plan.high_x() - plan.low_x()) / 2; }

/// The place of the plan nearest to (x, y), a little beyond its rim allowed.
Eigen::Vector2d on_plan(const PlanOutline& plan, double x, double y) {
  if (plan.round) {
    const Eigen::Vector2d middle(plan.x_middle, plan.y_middle), away = Eigen::Vector2d(x, y) - middle;
    const double r = away.norm(), most = margin * plan.outer;
    return r > most ? Eigen::Vector2d(middle + most / r * away) : Eigen::Vector2d(x, y);
  }
  const double more_x = (margin - 1) * (plan.x_to - plan.x_from) / 2, more_y = (margin - 1) * (plan.y_to - plan.y_from) / 2;
  return {std::clamp(x, plan.x_from - more_x, plan.x_to + more_x), std::clamp(y, plan.y_from - more_y, plan.y_to + more_y)};
}

}  // namespace

void MeantSurface::over(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  std::vector<double> at_x(static_cast<std::size_t>(n)), at_y(static_cast<std::size_t>(n));
  for (int i = 0; i < n; ++i) {
    const Eigen::Vector2d at = on_plan(plan, x[i], y[i]);
    at_x[static_cast<std::size_t>(i)] = at.x(), at_y[static_cast<std::size_t>(i)] = at.y();
  }
  heights->heights(n, at_x.data(), at_y.data(), h, slope_x, slope_y);
  for (int i = 0; i < n; ++i)
    h[i] += slope_x[i] * (x[i] - at_x[static_cast<std::size_t>(i)]) + slope_y[i] * (y[i] - at_y[static_cast<std::size_t>(i)]);
}

HeightAt MeantSurface::over(double x, double y) const {
  HeightAt at;
  over(1, &x, &y, &at.height, &at.slope_x, &at.slope_y);
  return at;
}

double bowl_like(const Heights& heights, const PlanOutline& plan) {
  constexpr int across = 24;
  const double half = half_width(plan), step = half / across;
  double sum = 0, count = 0;
  for (int i = 0; i < across; ++i) {
    for (int j = 0; j < across; ++j) {
      const double x = plan.low_x() + (plan.high_x() - plan.low_x()) * (i + 0.5) / across,
                   y = plan.low_y() + (plan.high_y() - plan.low_y()) * (j + 0.5) / across;
      if (!plan.covers(x - step, y) || !plan.covers(x + step, y) || !plan.covers(x, y - step) || !plan.covers(x, y + step))
        continue;
      const double along_x = height_at(*heights, x + step, y).slope_x - height_at(*heights, x - step, y).slope_x,
                   along_y = height_at(*heights, x, y + step).slope_y - height_at(*heights, x, y - step).slope_y;
      sum += std::abs(along_x + along_y) / (4 * step), ++count;
    }
  }
  constexpr double longest = 200;
  const double bend = count > 0 ? sum / count : 0, least = 1 / (2 * longest * 2 * half);
  return bend > least ? 1 / (2 * bend) : 2 * half;
}

}  // namespace dishwright
