// SPDX-License-Identifier: MIT
#include "survey/measured_surface.h"

#include <algorithm>
#include <cmath>

#include "base/fingerprint.h"

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
  if (!survey.under_rim && !round_) {
    const auto [first, last] = std::minmax_element(map.samples.begin(), map.samples.end(),
                                                   [](const auto& a, const auto& b) { return a.foot.y() < b.foot.y(); });
    shape_.vertex.y() = -(first->foot.y() + last->foot.y()) / 2;
  }
  // Residuals as heights over the places of this frame.
  auto weave = std::make_shared<Weave>();
  std::vector<double> residuals;
  for (const SurveySample& sample : map.samples) {
    weave->places.emplace_back(shape_.from_own(sample.foot).head<2>());
    weave->lift.push_back(1 / (shape_.turn * sample.normal).z());
    residuals.push_back(sample.residual);
  }
  const Neighbours near(weave->places);
  lowest_ = near.lowest(), highest_ = near.highest();
  const Eigen::Vector2d size = highest_ - lowest_;
  cell_ = std::max(map.spacing / 2, size.maxCoeff() / finest);
  corner_ = lowest_ - Eigen::Vector2d(cell_, cell_);
  columns_ = static_cast<int>(size.x() / cell_) + 4;
  rows_ = static_cast<int>(size.y() / cell_) + 4;
  nodes_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) add_node(corner_ + cell_ * Eigen::Vector2d(column, row), near, map, *weave);
  }
  weave->starts.push_back(weave->samples.size());
  weave_ = std::move(weave);
  set_nodes(residuals, map.humps);
}

void MeasuredSurface::add_node(const Eigen::Vector2d& at, const Neighbours& near, const SlopeMap& map, Weave& weave) const {
  weave.starts.push_back(weave.samples.size());
  const Neighbour nearest = near.nearest(at, 1)[0];
  // Outside the readings nothing is known: the surface over the nearest one goes on level.
  const Eigen::Vector2d inside = at.cwiseMax(lowest_).cwiseMin(highest_);
  const bool outside = nearest.distance > 1.5 * map.spacing + 2 * cell_ && (at - inside).norm() > 0;
  const Eigen::Vector2d look = outside ? near.places()[nearest.index] : at;
  for (int degree = map.rule.degree; degree >= 0; --degree) {
    std::vector<std::size_t> index;
    std::vector<LocalPlace> around;
    for (const Neighbour& other : near.nearest(look, static_cast<std::size_t>(map.rule.count))) {
      index.push_back(other.index);
      around.emplace_back(near.places()[other.index] - look);
    }
    const LocalWeights weights = local_weights(index, around, degree);
    if (!weights.good) continue;
    weave.samples.insert(weave.samples.end(), index.begin(), index.end());
    weave.weights.insert(weave.weights.end(), weights.value.begin(), weights.value.end());
    return;
  }
  weave.samples.push_back(nearest.index);
  weave.weights.push_back(1);
}

void MeasuredSurface::set_nodes(const std::vector<double>& residuals, const std::vector<LoneHump>& humps) {
  const Weave& weave = *weave_;
  for (std::size_t k = 0; k < nodes_.size(); ++k) {
    nodes_[k].value = 0;
    for (std::size_t j = weave.starts[k]; j < weave.starts[k + 1]; ++j)
      nodes_[k].value += weave.weights[j] * weave.lift[weave.samples[j]] * residuals[weave.samples[j]];
  }
  add_humps(humps);
  node_slopes();
}

MeasuredSurface MeasuredSurface::remade(const std::vector<double>& residuals, const std::vector<LoneHump>& humps) const {
  MeasuredSurface out = *this;
  out.set_nodes(residuals, humps);
  return out;
}

void MeasuredSurface::add_humps(const std::vector<LoneHump>& humps) {
  for (const LoneHump& hump : humps) {
    const double height = hump.height * weave_->lift[hump.sample], reach = std::max(hump.reach, 1.5 * cell_);
    const Eigen::Vector2d top = (weave_->places[hump.sample] - corner_) / cell_;
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
  double height = 0, by_x = 0, by_y = 0;
  for (std::size_t i = 0; i < 2; ++i) {
    for (std::size_t j = 0; j < 2; ++j) {
      const Node& n = node(column + static_cast<int>(i), row + static_cast<int>(j));
      // Along y first, for the node's value and for its slope along x.
      const double value = n.value * up.value[j] + n.by_y * up.value[j + 2],
                   climb = n.value * up.slope[j] + n.by_y * up.slope[j + 2];
      const double lean = n.by_x * up.value[j] + n.by_xy * up.value[j + 2],
                   lean_climb = n.by_x * up.slope[j] + n.by_xy * up.slope[j + 2];
      height += across.value[i] * value + across.value[i + 2] * lean;
      by_x += across.slope[i] * value + across.slope[i + 2] * lean;
      by_y += across.value[i] * climb + across.value[i + 2] * lean_climb;
    }
  }
  Eigen::Vector3d out(height, by_x / cell_, by_y / cell_);
  // Level beyond the grid.
  if (u != (x - corner_.x()) / cell_) out[1] = 0;
  if (v != (y - corner_.y()) / cell_) out[2] = 0;
  return out;
}

void MeasuredSurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  // The fitted shape: the crossing of a line along z with its quadric, as in height_at, for many places at once.
  const Quadric<double> q = own_quadric(shape_.kind, shape_.size);
  const Matrix3& m = shape_.turn;
  const double xx = m(0, 0), xy = m(0, 1), xz = m(0, 2), yx = m(1, 0), yy = m(1, 1), yz = m(1, 2), zx = m(2, 0), zy = m(2, 1),
               zz = m(2, 2), ax = shape_.vertex.x(), ay = shape_.vertex.y(), az = shape_.vertex.z();
#pragma omp simd
  for (int i = 0; i < n; ++i) {
    const double px = x[i] - ax, py = y[i] - ay;
    const double u = xx * px + yx * py - zx * az, v = xy * px + yy * py - zy * az, w = xz * px + yz * py - zz * az;
    const double z = root_near(ray_equation(q, u, v, w, zx, zy, zz), -w / zz);
    const double nx = q.a * (u + z * zx), ny = q.b * (v + z * zy), nz = q.c * (w + z * zz) - q.d;
    const double up = zx * nx + zy * ny + zz * nz;
    h[i] = z;
    slope_x[i] = -(xx * nx + xy * ny + xz * nz) / up;
    slope_y[i] = -(yx * nx + yy * ny + yz * nz) / up;
  }
  for (int i = 0; i < n; ++i) {
    const Eigen::Vector3d own = residual(x[i], y[i]);
    h[i] += own[0], slope_x[i] += own[1], slope_y[i] += own[2];
  }
}

double MeasuredSurface::fitted_height(double x, double y) const { return height_at(shape_, x, y); }
double MeasuredSurface::height(double x, double y) const { return fitted_height(x, y) + residual(x, y)[0]; }
Eigen::Vector2d MeasuredSurface::slope(double x, double y) const { return slope_at(shape_, x, y) + residual(x, y).tail<2>(); }

Vector3 MeasuredSurface::meeting() const {
  const Vector3 axis = shape_.axis();
  const double f = shape_.focal_length();
  return shape_.vertex + Vector3(2 * f * axis.x(), shape_.kind == ShapeKind::trough ? 0 : 2 * f * axis.y(), f * axis.z());
}

std::uint64_t MeasuredSurface::fingerprint() const {
  Fingerprint print;
  for (const double value : {shape_.size, corner_.x(), corner_.y(), cell_, 1.0 * columns_}) print.add(value);
  for (int i = 0; i < 3; ++i) {
    print.add(shape_.vertex[i]);
    for (int j = 0; j < 3; ++j) print.add(shape_.turn(i, j));
  }
  for (const Node& node : nodes_) print.add(node.value);
  return print.value();
}

bool MeasuredSurface::covers(double x, double y) const {
  const Eigen::Vector2d half = ((highest_ - lowest_) / 2).cwiseMax(1e-12);
  const Eigen::Vector2d unit = (Eigen::Vector2d(x, y) - (lowest_ + highest_) / 2).cwiseQuotient(half);
  return round_ ? unit.squaredNorm() <= 1 : unit.cwiseAbs().maxCoeff() <= 1;
}

}  // namespace dishwright
