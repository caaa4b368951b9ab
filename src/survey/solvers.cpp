// SPDX-License-Identifier: MIT
#include "survey/solvers.h"

#include <Eigen/Dense>

namespace dishwright {

void find_spectrum(const Eigen::MatrixXd& symmetric, Eigen::VectorXd& values, Eigen::MatrixXd& vectors) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(symmetric);
  values = solver.eigenvalues(), vectors = solver.eigenvectors();
}

Eigen::VectorXd solved(const Eigen::MatrixXd& normal, const Eigen::VectorXd& right) { return normal.ldlt().solve(right); }

Eigen::MatrixXd inverse_by_solving(const Eigen::MatrixXd& normal) {
  return normal.ldlt().solve(Eigen::MatrixXd::Identity(normal.rows(), normal.cols()));
}

Eigen::VectorXd shortest_least_squares(const Eigen::MatrixXd& rows, const Eigen::VectorXd& right) {
  return rows.completeOrthogonalDecomposition().solve(right);
}

Eigen::MatrixXd pseudo_inverse(const Eigen::MatrixXd& rows) { return rows.completeOrthogonalDecomposition().pseudoInverse(); }

Eigen::MatrixXd lower_root(const Eigen::MatrixXd& positive) { return positive.llt().matrixL(); }

}  // namespace dishwright
