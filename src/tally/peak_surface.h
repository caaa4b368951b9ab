// SPDX-License-Identifier: MIT
// Polynomials in two coordinates laid through counts in a rectangle of cells.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <vector>

namespace dishwright {

/// Terms u^i v^j with i + j <= 4, by rising degree: the first six are those of the second degree.
inline constexpr int surface_terms = 15, plain_terms = 6;
using SurfaceTerms = Eigen::Matrix<double, surface_terms, 1>;

/// A rectangle of cells with coordinates u, v that run from −1 to 1 over its nominal width and height.
struct SurfacePatch {
  int first_column = 0, end_column = 0, first_row = 0, end_row = 0;  ///< cells
  double middle_x = 0, middle_y = 0;                                 ///< where u = v = 0 [cells]
  double half_x = 1, half_y = 1;                                     ///< of one unit of u, v [cells]
};

/// Sums and least squares over the cells of patches that share their columns.
///
/// Cells count with the mean of each term over the cell, so that the surface is the irradiance itself, not its mean over cells.
class SurfaceFit {
 public:
  /// `light`: by replicate (rows) and cell (columns; row by row of the grid), 0 where `counts` is 0. All kept by reference.
  SurfaceFit(const Eigen::MatrixXd& light, const std::vector<char>& counts, int grid_cells);
  /// Sums along the columns of the patch, for all rows of the grid. To be called before `lay` for patches with these columns.
  void take_columns(const SurfacePatch& patch);
  /// Coefficients by replicate (rows) of the surfaces of degree 4 and 2.
  struct Surface {
    Eigen::MatrixXd terms;  ///< replicates × surface_terms
    Eigen::MatrixXd plain;  ///< of degree 2; 0 for the other terms
    double light = 0;       ///< sum over the patch and the replicates
  };
  /// Empty where the cells do not determine the surface.
  std::optional<Surface> lay(const SurfacePatch& patch) const;

 private:
  using Normal = Eigen::Matrix<double, surface_terms, surface_terms>;
  Normal normal_matrix(const SurfacePatch& patch) const;
  const Eigen::MatrixXd& light_;
  const std::vector<char>& counts_;
  int cells_;
  Eigen::Matrix<double, Eigen::Dynamic, 5> along_x_;  // by column of the patch: cell means of u^0 … u^4
  Eigen::MatrixXd row_sums_;                          // replicates × (rows · 5)
};

/// Mean over an ellipse about (u, v) with the half axes a, b: the values by which the terms' coefficients are to be multiplied.
/// Exact: f + (a² f_uu + b² f_vv)/8 + (a² ∂²_u + b² ∂²_v)² f/192 for the fourth degree.
SurfaceTerms ellipse_means(double u, double v, double a, double b);

/// The slope along u (axis 0) or v (axis 1) at (u, v): the values by which the terms' coefficients are to be multiplied.
SurfaceTerms slope_terms(double u, double v, int axis);

}  // namespace dishwright
