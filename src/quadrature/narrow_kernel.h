// SPDX-License-Identifier: MIT
// The sun's disc smeared by a narrow slope error: what a sum of Gaussians would need hundreds for.
#pragma once

#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// Disc ⊗ a Gaussian that is σ_1 = √(4 slope² + spread²) wide along the plane of incidence and σ_2 = √(4 slope² cos² i + spread²)
/// across it, per unit area, for every cosine of incidence: harmonics f0(r) + f2(r) cos 2φ + f4(r) cos 4φ + f6(r) cos 6φ about
/// the disc's middle, φ from the plane of incidence. With D the disc's Hankel transform, c_0 = 1 and c_m = 2,
/// f_2m(r) = c_m/2π ∫ D(k) e^(−k² S) I_m(k² d) J_2m(k r) k dk,  S = (σ_1² + σ_2²)/4,  d = (σ_1² − σ_2²)/4:
/// the Gaussian's transform e^(−k² (S + d cos 2ψ)) by its series in cos 2mψ.
///
/// Tables stand at Chebyshev's places of cos² i; that of a place of the mirror is drawn through them.
class NarrowKernel {
 public:
  static constexpr int harmonics = 4;
  /// Nothing; error() is 1.
  NarrowKernel() = default;
  /// slope > 0 and spread >= 0 [rad]; `steepest` is the smallest cosine of incidence, 0 < steepest <= 1. The sun has a disc, and
  /// no aureole.
  NarrowKernel(const Sun& sun, double slope, double spread, double steepest);
  /// Rows of the harmonics at even steps of r, the last two of them 0 [1/rad²].
  std::vector<float> table(double cosine) const;
  float per_step() const { return per_step_; }  ///< steps per radian
  double edge() const { return edge_; }         ///< beyond this there is nothing [rad]
  /// What the left out harmonics and the steps cost, at the worst, relative to the middle [1].
  double error() const { return error_; }
  double variance() const { return variance_; }  ///< of the disc itself along one axis [rad²]

 private:
  std::vector<double> squares_;             // cos² i of the tables
  std::vector<std::vector<float>> tables_;  // rows × harmonics
  float per_step_ = 0;
  double edge_ = 0, error_ = 1, variance_ = 0;
};

}  // namespace dishwright
