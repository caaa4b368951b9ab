// SPDX-License-Identifier: MIT
#include "survey/measured_surface.h"

#include <algorithm>
#include <cmath>

#include "base/fingerprint.h"

namespace dishwright {

namespace {

constexpr double finest = 160;  // cells across at most

/// The fitted shape in the mirror's frame.
PlacedShape mirror_shape(bool under_rim, const PlacedShape& fitted) {
  PlacedShape shape = fitted;
  if (under_rim) {
    // The origin lies on the surface under the middle of the rim; of a design where its own origin lies.
    const Eigen::Vector2d middle = fitted.kind == ShapeKind::meant ? fitted.meant->middle() : Eigen::Vector2d(0, 0);
    const double from = fitted.kind == ShapeKind::meant ? fitted.meant->over(middle.x(), middle.y()).height : 0;
    shape.vertex.z() -= height_at(fitted, middle.x(), middle.y()) - from;
  } else {
    shape.vertex = Vector3::Zero();
    shape.turn = Matrix3::Identity();
  }
  return shape;
}

}  // namespace

Eigen::Vector2d slope_at(const PlacedShape& shape, double x, double y) {
  const Vector3 own = shape.to_own(Vector3(x, y, height_at(shape, x, y)));
  const Eigen::Vector2d slope = own_slope(shape, own.x(), own.y());
  const Vector3 normal = shape.turn * Vector3(-slope.x(), -slope.y(), 1);
  return {-normal.x() / normal.z(), -normal.y() / normal.z()};
}

MeasuredSurface::MeasuredSurface(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map)
    : shape_(mirror_shape(survey.under_rim, fit.shape)), round_(fit.shape.round()), under_rim_(survey.under_rim) {
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
  const double cell = std::max(map.spacing / 2, size.maxCoeff() / finest);
  residuals_ = HeightGrid(lowest_.x() - cell, lowest_.y() - cell, cell, static_cast<int>(size.x() / cell) + 4,
                          static_cast<int>(size.y() / cell) + 4);
  for (int row = 0; row < residuals_.rows(); ++row) {
    for (int column = 0; column < residuals_.columns(); ++column)
      add_node({residuals_.x(column), residuals_.y(row)}, near, map, *weave);
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
  const bool outside = nearest.distance > 1.5 * map.spacing + 2 * residuals_.cell() && (at - inside).norm() > 0;
  const Eigen::Vector2d look = outside ? near.places()[nearest.index] : at;
  for (int degree = map.rule.degree; degree >= 0; --degree) {
    std::vector<std::size_t> index;
    std::vector<LocalPlace> around;
    for (const Neighbour& other : near.nearest_and_within(look, static_cast<std::size_t>(map.rule.count), map.rule.reach)) {
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
  std::vector<HeightGrid::Node>& nodes = residuals_.nodes();
  for (std::size_t k = 0; k < nodes.size(); ++k) {
    nodes[k].value = 0;
    for (std::size_t j = weave.starts[k]; j < weave.starts[k + 1]; ++j)
      nodes[k].value += weave.weights[j] * weave.lift[weave.samples[j]] * residuals[weave.samples[j]];
  }
  add_humps(humps);
  residuals_.slopes_from_values();
}

MeasuredSurface MeasuredSurface::remade(const std::vector<double>& residuals, const std::vector<LoneHump>& humps) const {
  MeasuredSurface out = *this;
  out.set_nodes(residuals, humps);
  return out;
}

MeasuredSurface MeasuredSurface::moved_by(const FitVector& change) const {
  MeasuredSurface out = *this;
  out.shape_ = mirror_shape(under_rim_, moved(shape_, change));
  return out;
}

void MeasuredSurface::add_humps(const std::vector<LoneHump>& humps) {
  HeightGrid& grid = residuals_;
  for (const LoneHump& hump : humps) {
    const double height = hump.height * weave_->lift[hump.sample], reach = std::max(hump.reach, 1.5 * grid.cell());
    const Eigen::Vector2d top = (weave_->places[hump.sample] - Eigen::Vector2d(grid.x(0), grid.y(0))) / grid.cell();
    const double cells = reach / grid.cell();
    for (int row = std::max(0, static_cast<int>(top.y() - cells)); row < std::min<double>(grid.rows(), top.y() + cells + 1);
         ++row) {
      for (int column = std::max(0, static_cast<int>(top.x() - cells));
           column < std::min<double>(grid.columns(), top.x() + cells + 1); ++column) {
        const Eigen::Vector2d away = (Eigen::Vector2d(column, row) - top) / cells;
        const double left = 1 - away.squaredNorm();
        if (left <= 0) continue;
        grid.node(column, row).value += height * left * left;
      }
    }
  }
}

void MeasuredSurface::heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
  if (shape_.kind == ShapeKind::meant) {
    meant_heights(shape_, n, x, y, h, slope_x, slope_y);
  } else {
    fitted_heights(n, x, y, h, slope_x, slope_y);
  }
  for (int i = 0; i < n; ++i) {
    const GridHeight own = residuals_.at(x[i], y[i]);
    h[i] += own.height, slope_x[i] += own.slope_x, slope_y[i] += own.slope_y;
  }
}

void MeasuredSurface::fitted_heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const {
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
}

double MeasuredSurface::fitted_height(double x, double y) const { return height_at(shape_, x, y); }
double MeasuredSurface::height(double x, double y) const { return fitted_height(x, y) + residuals_.at(x, y).height; }
Eigen::Vector2d MeasuredSurface::slope(double x, double y) const {
  const GridHeight own = residuals_.at(x, y);
  return slope_at(shape_, x, y) + Eigen::Vector2d(own.slope_x, own.slope_y);
}

Vector3 MeasuredSurface::meeting() const {
  const Vector3 axis = shape_.axis();
  const double f = shape_.focal_length();
  return shape_.vertex + Vector3(2 * f * axis.x(), !shape_.round() ? 0 : 2 * f * axis.y(), f * axis.z());
}

std::uint64_t MeasuredSurface::fingerprint() const {
  Fingerprint print;
  for (const double value : {shape_.size, residuals_.x(0), residuals_.y(0), residuals_.cell(), 1.0 * residuals_.columns()})
    print.add(value);
  for (int i = 0; i < 3; ++i) {
    print.add(shape_.vertex[i]);
    for (int j = 0; j < 3; ++j) print.add(shape_.turn(i, j));
  }
  if (shape_.kind == ShapeKind::meant) {
    // Of the design its heights at places of a coarse grid.
    constexpr int across = 16;
    for (int i = 0; i < across * across; ++i) {
      const Eigen::Vector2d at = lowest_ + (highest_ - lowest_).cwiseProduct(Eigen::Vector2d(i % across, i / across) / across);
      print.add(fitted_height(at.x(), at.y()));
    }
  }
  for (const HeightGrid::Node& node : residuals_.nodes()) print.add(node.value);
  return print.value();
}

bool MeasuredSurface::covers(double x, double y) const {
  const Eigen::Vector2d half = ((highest_ - lowest_) / 2).cwiseMax(1e-12);
  const Eigen::Vector2d unit = (Eigen::Vector2d(x, y) - (lowest_ + highest_) / 2).cwiseQuotient(half);
  return round_ ? unit.squaredNorm() <= 1 : unit.cwiseAbs().maxCoeff() <= 1;
}

}  // namespace dishwright
