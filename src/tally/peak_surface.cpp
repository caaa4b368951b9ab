// SPDX-License-Identifier: MIT
#include "tally/peak_surface.h"

#include <Eigen/Cholesky>
#include <cmath>
#include <vector>

namespace dishwright {

namespace {

constexpr int degree = 4;
constexpr std::array<std::array<int, 2>, surface_terms> powers = {
    {{0, 0}, {1, 0}, {0, 1}, {2, 0}, {1, 1}, {0, 2}, {3, 0}, {2, 1}, {1, 2}, {0, 3}, {4, 0}, {3, 1}, {2, 2}, {1, 3}, {0, 4}}};

/// Means of u^0 … u^4 over [from, to].
std::array<double, degree + 1> power_means(double from, double to) {
  std::array<double, degree + 1> means{};
  double low = 1, high = 1;
  for (int k = 0; k <= degree; ++k) {
    low *= from, high *= to;
    means[static_cast<std::size_t>(k)] = (high - low) / ((k + 1) * (to - from));
  }
  return means;
}

}  // namespace

SurfaceFit::SurfaceFit(const Eigen::MatrixXd& light, const std::vector<char>& counts, int grid_cells)
    : light_(light), counts_(counts), cells_(grid_cells) {}

void SurfaceFit::take_columns(const SurfacePatch& patch) {
  const int columns = patch.end_column - patch.first_column;
  along_x_.resize(columns, degree + 1);
  for (int column = 0; column < columns; ++column) {
    const double from = (patch.first_column + column - patch.middle_x) / patch.half_x;
    const auto means = power_means(from, from + 1 / patch.half_x);
    for (int k = 0; k <= degree; ++k) along_x_(column, k) = means[static_cast<std::size_t>(k)];
  }
  row_sums_.resize(light_.rows(), static_cast<Eigen::Index>(cells_) * (degree + 1));
  for (int row = 0; row < cells_; ++row) {
    row_sums_.middleCols(row * (degree + 1), degree + 1).noalias() =
        light_.middleCols(row * cells_ + patch.first_column, columns).lazyProduct(along_x_);
  }
}

SurfaceFit::Normal SurfaceFit::normal_matrix(const SurfacePatch& patch) const {
  using Square = Eigen::Matrix<double, degree + 1, degree + 1>;
  const int columns = patch.end_column - patch.first_column;
  const Square whole_row = along_x_.transpose() * along_x_;
  Normal normal = Normal::Zero();
  for (int row = patch.first_row; row < patch.end_row; ++row) {
    const char* counts = counts_.data() + static_cast<std::ptrdiff_t>(row) * cells_ + patch.first_column;
    Square along = whole_row;
    for (int column = 0; column < columns; ++column) {
      if (counts[column] == 0) along.noalias() -= along_x_.row(column).transpose() * along_x_.row(column);
    }
    const double from = (row - patch.middle_y) / patch.half_y;
    const auto up = power_means(from, from + 1 / patch.half_y);
    for (std::size_t a = 0; a < surface_terms; ++a) {
      for (std::size_t b = 0; b <= a; ++b) {
        normal(static_cast<int>(a), static_cast<int>(b)) += along(powers[a][0], powers[b][0]) *
                                                            up[static_cast<std::size_t>(powers[a][1])] *
                                                            up[static_cast<std::size_t>(powers[b][1])];
      }
    }
  }
  return normal.selfadjointView<Eigen::Lower>();
}

std::optional<SurfaceFit::Surface> SurfaceFit::lay(const SurfacePatch& patch) const {
  const Normal normal = normal_matrix(patch);
  const Eigen::LDLT<Normal> all(normal);
  const auto pivots = all.vectorD();
  if (!(normal(0, 0) > 2 * surface_terms) || !(pivots.minCoeff() > 1e-7 * pivots.maxCoeff())) return std::nullopt;
  Eigen::MatrixXd sums = Eigen::MatrixXd::Zero(light_.rows(), surface_terms);
  for (int row = patch.first_row; row < patch.end_row; ++row) {
    const double from = (row - patch.middle_y) / patch.half_y;
    const auto up = power_means(from, from + 1 / patch.half_y);
    for (std::size_t a = 0; a < surface_terms; ++a) {
      sums.col(static_cast<int>(a)) +=
          up[static_cast<std::size_t>(powers[a][1])] * row_sums_.col(row * (degree + 1) + powers[a][0]);
    }
  }
  Surface out;
  out.light = sums.col(0).sum();
  out.terms = all.solve(sums.transpose()).transpose();
  const Eigen::Matrix<double, plain_terms, plain_terms> plain = normal.topLeftCorner<plain_terms, plain_terms>();
  out.plain = Eigen::MatrixXd::Zero(light_.rows(), surface_terms);
  out.plain.leftCols(plain_terms) = plain.ldlt().solve(sums.leftCols(plain_terms).transpose()).transpose();
  return out;
}

namespace {

/// Derivatives of the terms at a place: n_u times along u, n_v times along v.
class TermSlopes {
 public:
  TermSlopes(double u, double v) {
    for (std::size_t k = 1; k <= degree; ++k) up_[k] = up_[k - 1] * u, vp_[k] = vp_[k - 1] * v;
  }
  double operator()(std::size_t term, int n_u, int n_v) const {
    return slope(up_, powers[term][0], n_u) * slope(vp_, powers[term][1], n_v);
  }

 private:
  using Powers = std::array<double, degree + 1>;
  // n-th derivative of t^p.
  static double slope(const Powers& power, int p, int n) {
    double factor = 1;
    for (int k = 0; k < n; ++k) factor *= p - k;
    return p < n ? 0.0 : factor * power[static_cast<std::size_t>(p - n)];
  }
  Powers up_{1}, vp_{1};
};

}  // namespace

SurfaceTerms ellipse_means(double u, double v, double a, double b) {
  const TermSlopes bend(u, v);
  const double a2 = a * a, b2 = b * b;
  SurfaceTerms out;
  for (std::size_t t = 0; t < surface_terms; ++t) {
    out(static_cast<int>(t)) = bend(t, 0, 0) + (a2 * bend(t, 2, 0) + b2 * bend(t, 0, 2)) / 8 +
                               (a2 * a2 * bend(t, 4, 0) + 2 * a2 * b2 * bend(t, 2, 2) + b2 * b2 * bend(t, 0, 4)) / 192;
  }
  return out;
}

SurfaceTerms slope_terms(double u, double v, int axis) {
  const TermSlopes slope(u, v);
  SurfaceTerms out;
  for (std::size_t t = 0; t < surface_terms; ++t) out(static_cast<int>(t)) = slope(t, axis == 0 ? 1 : 0, axis == 0 ? 0 : 1);
  return out;
}

}  // namespace dishwright
