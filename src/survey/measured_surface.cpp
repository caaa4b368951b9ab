// SPDX-License-Identifier: MIT
#include "survey/measured_surface.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr double finest = 160;  // cells across at most

/// Cubic Hermite basis on 0 … 1 (value left, value right, slope left, slope right) and its derivative.
struct Hermite {
  std::array<double, 4> value, slope;
};
Hermite hermite(double t) {
  const double t2 = t * t, t3 = t2 * t;
  return {{2 * t3 - 3 * t2 + 1, -2 * t3 + 3 * t2, t3 - 2 * t2 + t, t3 - t2},
          {6 * t2 - 6 * t, -6 * t2 + 6 * t, 3 * t2 - 4 * t + 1, 3 * t2 - 2 * t}};
}

/// The fitted shape in the mirror's frame.
PlacedShape mirror_shape(const SurveyPoints& survey, const PlacedShape& fitted) {
  PlacedShape shape = fitted;
  if (survey.under_rim) {
    shape.vertex.z() -= height_at(fitted, 0, 0);
  } else {
    shape.vertex = Vector3::Zero();
    shape.turn = Matrix3::Identity();
  }
  return shape;
}

}  // namespace

Eigen::Vector2d slope_at(const PlacedShape& shape, double x, double y) {
  const Vector3 own = shape.to_own(Vector3(x, y, height_at(shape, x, y)));
  const Eigen::Vector2d slope = own_slope(shape.kind, shape.size, own.x(), own.y());
  const Vector3 normal = shape.turn * Vector3(-slope.x(), -slope.y(), 1);
  return {-normal.x() / normal.z(), -normal.y() / normal.z()};
}

MeasuredSurface::MeasuredSurface(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map)
    : shape_(mirror_shape(survey, fit.shape)), round_(fit.shape.kind != ShapeKind::trough) {
  // Residuals as heights over the places of this frame.
  std::vector<Eigen::Vector2d> places;
  std::vector<double> lifts;
  for (const SurveySample& sample : map.samples) {
    places.emplace_back(shape_.from_own(sample.foot).head<2>());
    lifts.push_back(sample.residual / (shape_.turn * sample.normal).z());
  }
  const Neighbours near(std::move(places));
  lowest_ = near.lowest(), highest_ = near.highest();
  const Eigen::Vector2d size = highest_ - lowest_;
  cell_ = std::max(map.spacing / 2, size.maxCoeff() / finest);
  corner_ = lowest_ - Eigen::Vector2d(cell_, cell_);
  columns_ = static_cast<int>(size.x() / cell_) + 4;
  rows_ = static_cast<int>(size.y() / cell_) + 4;
  nodes_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) {
      node(column, row).value = node_value(corner_ + cell_ * Eigen::Vector2d(column, row), near, lifts, map);
    }
  }
  add_humps(map, near.places());
  node_slopes();
}

double MeasuredSurface::node_value(const Eigen::Vector2d& at, const Neighbours& near, const std::vector<double>& lifts,
                                   const SlopeMap& map) const {
  const Neighbour nearest = near.nearest(at, 1)[0];
  // Outside the readings nothing is known: the nearest smoothed residual goes on level.
  const Eigen::Vector2d inside = at.cwiseMax(lowest_).cwiseMin(highest_);
  if (nearest.distance > 1.5 * map.spacing + 2 * cell_ && (at - inside).norm() > 0) {
    return map.points[nearest.index].value / (shape_.turn * map.samples[nearest.index].normal).z();
  }
  for (int degree = map.rule.degree; degree >= 0; --degree) {
    std::vector<std::size_t> index;
    std::vector<LocalPlace> around;
    for (const Neighbour& other : near.nearest(at, static_cast<std::size_t>(map.rule.count))) {
      index.push_back(other.index);
      around.emplace_back(near.places()[other.index] - at);
    }
    const LocalWeights weights = local_weights(index, around, degree);
    if (!weights.good) continue;
    double value = 0;
    for (std::size_t k = 0; k < index.size(); ++k) value += weights.value[k] * lifts[index[k]];
    return value;
  }
  return lifts[nearest.index];
}

void MeasuredSurface::add_humps(const SlopeMap& map, const std::vector<Eigen::Vector2d>& places) {
  for (const LoneHump& hump : map.humps) {
    const double height = hump.height / (shape_.turn * map.samples[hump.sample].normal).z(),
                 reach = std::max(hump.reach, 1.5 * cell_);
    const Eigen::Vector2d top = (places[hump.sample] - corner_) / cell_;
    const double cells = reach / cell_;
    for (int row = std::max(0, static_cast<int>(top.y() - cells)); row < std::min<double>(rows_, top.y() + cells + 1); ++row) {
      for (int column = std::max(0, static_cast<int>(top.x() - cells)); column < std::min<double>(columns_, top.x() + cells + 1);
           ++column) {
        const Eigen::Vector2d away = (Eigen::Vector2d(column, row) - top) / cells;
        const double left = 1 - away.squaredNorm();
        if (left <= 0) continue;
        node(column, row).value += height * left * left;
      }
    }
  }
}

/// Slopes at the nodes from the values around them (central differences, one-sided at the edge), so that values and slopes agree.
void MeasuredSurface::node_slopes() {
  const auto across = [this](int column, int row, double Node::*part) {
    const int left = std::max(0, column - 1), right = std::min(columns_ - 1, column + 1);
    return (node(right, row).*part - node(left, row).*part) / (right - left);
  };
  for (int row = 0; row < rows_; ++row) {
    const int under = std::max(0, row - 1), over = std::min(rows_ - 1, row + 1);
    for (int column = 0; column < columns_; ++column) {
      node(column, row).by_x = across(column, row, &Node::value);
      node(column, row).by_y = (node(column, over).value - node(column, under).value) / (over - under);
    }
  }
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) node(column, row).by_xy = across(column, row, &Node::by_y);
  }
}

Eigen::Vector3d MeasuredSurface::residual(double x, double y) const {
  // Beyond the grid the edge goes on.
  const double u = std::clamp((x - corner_.x()) / cell_, 0.0, columns_ - 1.0),
               v = std::clamp((y - corner_.y()) / cell_, 0.0, rows_ - 1.0);
  const int column = std::min(columns_ - 2, static_cast<int>(u)), row = std::min(rows_ - 2, static_cast<int>(v));
  const Hermite across = hermite(u - column), up = hermite(v - row);
  Eigen::Vector3d out(0, 0, 0);
  for (int i = 0; i < 2; ++i) {
    for (int j = 0; j < 2; ++j) {
      const Node& n = node(column + i, row + j);
      const auto a = static_cast<std::size_t>(i), b = static_cast<std::size_t>(j);
      const auto add = [&](double weight, std::size_t p, std::size_t q) {
        out += weight * Eigen::Vector3d(across.value[p] * up.value[q], across.slope[p] * up.value[q] / cell_,
                                        across.value[p] * up.slope[q] / cell_);
      };
      add(n.value, a, b);
      add(n.by_x, a + 2, b);
      add(n.by_y, a, b + 2);
      add(n.by_xy, a + 2, b + 2);
    }
  }
  return out;
}

void MeasuredSurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  for (int i = 0; i < n; ++i) {
    const Eigen::Vector3d own = residual(x[i], y[i]);
    const Eigen::Vector2d fitted = slope_at(shape_, x[i], y[i]);
    h[i] = fitted_height(x[i], y[i]) + own[0];
    slope_x[i] = fitted.x() + own[1], slope_y[i] = fitted.y() + own[2];
  }
}

double MeasuredSurface::fitted_height(double x, double y) const { return height_at(shape_, x, y); }
double MeasuredSurface::height(double x, double y) const { return fitted_height(x, y) + residual(x, y)[0]; }
Eigen::Vector2d MeasuredSurface::slope(double x, double y) const { return slope_at(shape_, x, y) + residual(x, y).tail<2>(); }

bool MeasuredSurface::covers(double x, double y) const {
  const Eigen::Vector2d half = ((highest_ - lowest_) / 2).cwiseMax(1e-12);
  const Eigen::Vector2d unit = (Eigen::Vector2d(x, y) - (lowest_ + highest_) / 2).cwiseQuotient(half);
  return round_ ? unit.squaredNorm() <= 1 : unit.cwiseAbs().maxCoeff() <= 1;
}

}  // namespace dishwright
