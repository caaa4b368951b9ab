// SPDX-License-Identifier: MIT
// Surveys of surfaces that are known exactly.
#pragma once

#include <cmath>
#include <functional>
#include <numbers>
#include <random>

#include "survey/fit.h"

namespace dishwright::testing {

/// Places of a ring survey: the middle, then `clocks` places on each ring [m].
inline std::vector<Eigen::Vector2d> ring_places(const std::vector<double>& rings, int clocks) {
  std::vector<Eigen::Vector2d> out = {{0, 0}};
  for (const double ring : rings) {
    for (int k = 0; k < clocks; ++k) {
      const double angle = std::numbers::pi / 2 - 2 * std::numbers::pi * k / clocks;
      out.emplace_back(ring * std::cos(angle), ring * std::sin(angle));
    }
  }
  return out;
}

/// Places of a square grid inside a circle [m].
inline std::vector<Eigen::Vector2d> grid_places(double spacing, double radius) {
  std::vector<Eigen::Vector2d> out;
  const int n = static_cast<int>(radius / spacing);
  for (int i = -n; i <= n; ++i) {
    for (int j = -n; j <= n; ++j) {
      const Eigen::Vector2d place(i * spacing, j * spacing);
      if (place.norm() <= radius) out.push_back(place);
    }
  }
  return out;
}

/// A paraboloid or trough whose vertex and axis are known, seen under a straightedge: z over a place by bisection along z
/// (independent of the fitted code's own solver).
struct KnownParabola {
  double f = 0.6;
  Vector3 vertex = Vector3(0, 0, -0.15);
  double lean_x = 0, lean_y = 0;  ///< turn about x, then y [rad]
  bool trough = false;
  double height(double x, double y) const {
    const Matrix3 turn = (Eigen::AngleAxisd(lean_y, Vector3::UnitY()) * Eigen::AngleAxisd(lean_x, Vector3::UnitX())).matrix();
    const auto above = [&](double z) {
      const Vector3 own = turn.transpose() * (Vector3(x, y, z) - vertex);
      return own.z() - (own.x() * own.x() + (trough ? 0 : own.y() * own.y())) / (4 * f);
    };
    double low = vertex.z() - 1, high = vertex.z() + 1;
    for (int i = 0; i < 60; ++i) {
      const double middle = (low + high) / 2;
      (above(middle) < 0 ? low : high) = middle;
    }
    return (low + high) / 2;
  }
};

inline SurveyPoints survey_of(const std::vector<Eigen::Vector2d>& places, const std::function<double(double, double)>& height) {
  SurveyPoints out;
  out.under_rim = true;
  for (const Eigen::Vector2d& place : places) {
    out.points.emplace_back(place.x(), place.y(), height(place.x(), place.y()));
    out.rows.push_back(static_cast<int>(out.rows.size()) + 2);
  }
  return out;
}

inline void add_noise(SurveyPoints& survey, double sigma, unsigned seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal(0, sigma);
  for (Vector3& point : survey.points) point.z() += normal(random);
}

inline std::vector<char> all_of(const SurveyPoints& survey) { return std::vector<char>(survey.points.size(), 1); }

}  // namespace dishwright::testing
