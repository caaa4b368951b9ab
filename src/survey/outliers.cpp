// SPDX-License-Identifier: MIT
#include "survey/outliers.h"

#include <algorithm>
#include <cmath>

#include "survey/median.h"
#include "survey/neighbours.h"

namespace dishwright {

namespace {

constexpr std::size_t few = 20000;          // more points are compared with their cell, not with their neighbours
constexpr std::size_t neighbour_count = 6;  // that are asked
constexpr double deviations = 6, far_deviations = 8, steepest = 0.1, far_share = 0.03, steps = 3;

struct Kept {
  std::vector<std::size_t> index;
  std::vector<Eigen::Vector2d> places;  // own frame
  double width = 0;
};

Kept kept_places(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  Kept out;
  Eigen::Vector2d low(1e300, 1e300), high(-1e300, -1e300);
  for (std::size_t i = 0; i < keep.size(); ++i) {
    if (keep[i] == 0) continue;
    out.index.push_back(i);
    out.places.emplace_back(fit.shape.to_own(survey.points[i]).head<2>());
    low = low.cwiseMin(out.places.back()), high = high.cwiseMax(out.places.back());
  }
  out.width = (high - low).maxCoeff();
  return out;
}

/// What the neighbours of each point say.
struct Expected {
  std::vector<double> residual;  ///< [m]
  std::vector<double> away;      ///< how far they are [m]
};

/// The neighbours' middle residual, each point's own left out.
Expected expected_by_neighbours(const Kept& kept, const ShapeFit& fit) {
  const Neighbours near(kept.places);
  Expected out;
  for (std::size_t k = 0; k < kept.index.size(); ++k) {
    std::vector<double> others;
    double away = 0;
    for (const Neighbour& other : near.nearest(kept.places[k], neighbour_count + 1)) {
      if (other.index == k) continue;
      others.push_back(fit.residuals[kept.index[other.index]]);
      away += other.distance / neighbour_count;
    }
    // The middle two of six.
    std::sort(others.begin(), others.end());
    const std::size_t n = others.size();
    out.residual.push_back(n == 0 ? 0 : (others[(n - 1) / 2] + others[n / 2]) / 2);
    out.away.push_back(away);
  }
  return out;
}

/// The same for large clouds: the median of the cell's points, about 60 of them.
Expected expected_by_cells(const Kept& kept, const ShapeFit& fit) {
  Eigen::Vector2d low = kept.places.front(), high = low;
  for (const Eigen::Vector2d& place : kept.places) low = low.cwiseMin(place), high = high.cwiseMax(place);
  const double cell =
      std::sqrt(60 * std::max((high - low).prod(), 1e-6 * kept.width * kept.width) / static_cast<double>(kept.places.size()));
  const auto columns = static_cast<std::size_t>((high.x() - low.x()) / cell) + 1,
             rows = static_cast<std::size_t>((high.y() - low.y()) / cell) + 1;
  const auto cell_of = [&](const Eigen::Vector2d& place) {
    return static_cast<std::size_t>((place.y() - low.y()) / cell) * columns +
           static_cast<std::size_t>((place.x() - low.x()) / cell);
  };
  std::vector<std::vector<double>> inside(columns * rows);
  for (std::size_t k = 0; k < kept.index.size(); ++k) inside[cell_of(kept.places[k])].push_back(fit.residuals[kept.index[k]]);
  std::vector<double> medians;
  medians.reserve(inside.size());
  for (std::vector<double>& values : inside) medians.push_back(median(values));
  Expected out;
  for (const Eigen::Vector2d& place : kept.places) out.residual.push_back(medians[cell_of(place)]);
  out.away.assign(kept.places.size(), cell / 8);
  return out;
}

}  // namespace

std::vector<Outlier> find_outliers(const SurveyPoints& survey, const std::vector<char>& keep, const ShapeFit& fit) {
  const Kept kept = kept_places(survey, keep, fit);
  const Expected expected = kept.index.size() > few ? expected_by_cells(kept, fit) : expected_by_neighbours(kept, fit);
  std::vector<double> sizes;
  for (std::size_t k = 0; k < kept.index.size(); ++k)
    sizes.push_back(std::abs(fit.residuals[kept.index[k]] - expected.residual[k]));
  const double spread = median(sizes) / normal_quartile, far = std::max(far_deviations * fit.scale, far_share * kept.width);
  std::vector<Outlier> out;
  for (std::size_t k = 0; k < kept.index.size(); ++k) {
    const double residual = fit.residuals[kept.index[k]];
    const double alone = std::max({deviations * spread, steps * survey.step, steepest * expected.away[k]});
    // Next to a bad reading a good one may look bad: it has to be off the shape itself too.
    const bool strange = std::abs(residual - expected.residual[k]) > alone && std::abs(residual) > alone / 2;
    if (!strange && std::abs(residual) <= far) continue;
    out.push_back({kept.index[k], residual, std::abs(residual) > far ? 0 : expected.residual[k]});
  }
  return out;
}

}  // namespace dishwright
