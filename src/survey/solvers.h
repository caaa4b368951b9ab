// SPDX-License-Identifier: MIT
// Eigen's solvers for the sizes that a survey needs, behind one file: each takes seconds to compile wherever it is used.
#pragma once

#include <Eigen/Core>

namespace dishwright {

template <int n>
using Square = Eigen::Matrix<double, n, n>;
template <int n>
using Column = Eigen::Matrix<double, n, 1>;

/// Eigenvalues from the smallest up, and their unit vectors as columns.
template <int n>
struct Spectrum {
  Column<n> values;
  Square<n> vectors;
};

/// Of a symmetric matrix.
template <int n>
Spectrum<n> spectrum(const Square<n>& symmetric);

/// x of normal · x = right, by LDLᵀ. Normal equations that leave something open give no finite numbers or large ones: add to their
/// diagonal first.
Eigen::VectorXd solved(const Eigen::MatrixXd& normal, const Eigen::VectorXd& right);
/// The inverse in the same way.
Eigen::MatrixXd inverse_by_solving(const Eigen::MatrixXd& normal);

/// The shortest x of the smallest |rows · x − right|, by a complete orthogonal decomposition.
Eigen::VectorXd shortest_least_squares(const Eigen::MatrixXd& rows, const Eigen::VectorXd& right);
/// The pseudo-inverse by the same decomposition.
Eigen::MatrixXd pseudo_inverse(const Eigen::MatrixXd& rows);
/// L of L · Lᵀ = positive.
Eigen::MatrixXd lower_root(const Eigen::MatrixXd& positive);

/// Eigenvalues from the smallest up, and unit vectors as columns, of a symmetric matrix of any size.
void find_spectrum(const Eigen::MatrixXd& symmetric, Eigen::VectorXd& values, Eigen::MatrixXd& vectors);

template <int n>
Spectrum<n> spectrum(const Square<n>& symmetric) {
  Eigen::VectorXd values;
  Eigen::MatrixXd vectors;
  find_spectrum(symmetric, values, vectors);
  return {values, vectors};
}

}  // namespace dishwright
