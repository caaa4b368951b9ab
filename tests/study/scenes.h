// SPDX-License-Identifier: MIT
// Scenes in one line, and how an estimate is judged against outside truth.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "base/estimate.h"
#include "scene/scene.h"
#include "study/ray_figures.h"

namespace dishwright::test {

constexpr double pi = std::numbers::pi;
constexpr double sun_angle = 4.65e-3;  // [rad]
inline double degrees(double angle) { return angle * pi / 180; }

inline Sun sun(DiscProfile profile, double half_angle = sun_angle) {
  Sun made;
  made.disc = profile;
  made.half_angle = half_angle;
  return made;
}
inline Sun uniform_sun() { return sun(DiscProfile::uniform); }
inline Sun limb_sun() { return sun(DiscProfile::limb_darkened); }
inline Sun point_sun(double aim_error = 0, double aim_direction = 0) {
  Sun made = sun(DiscProfile::uniform, 0);
  made.aim_error = aim_error;
  made.aim_direction = aim_direction;
  return made;
}

inline Reflector mirror(ReflectorShape shape, double slope_error = 0) {
  Reflector made;
  made.name = "dish";
  made.shape = shape;
  made.slope_error = slope_error;
  return made;
}

/// A target that lets light through on its way in, so that closed forms need no shadow.
inline Target target(TargetShape shape, const Vector3& at) {
  Target made;
  made.name = "spot";
  made.shape = shape;
  made.pose.at = at;
  made.shades = false;
  return made;
}

inline Scene scene(const Sun& shine, const Reflector& dish, const Target& spot, std::uint64_t paths = 400'000,
                   std::uint64_t seed = 1) {
  Scene made;
  made.sun = shine;
  made.reflectors = {dish};
  made.targets = {spot};
  made.trace.paths = paths;
  made.trace.seed = seed;
  return made;
}

/// Focal length 1 m and the width that gives this rim angle: D = 4 f tan(φ/2).
inline Paraboloid dish_of(double rim_angle) { return {1, 4 * std::tan(rim_angle / 2), 0}; }
inline Trough trough_of(double rim_angle, double length) { return {1, 4 * std::tan(rim_angle / 2), length}; }

inline TraceFigures traced(const Scene& made, int threads = 2) {
  Watch watch;
  return ray_figures(made, threads, watch);
}

/// Power of a ledger line, 0 W where there is no such line.
inline Estimate ledger(const TraceFigures& figures, const std::string& where) {
  for (const LedgerLine& line : figures.ledger) {
    if (line.where == where) return line.power;
  }
  return {0, 0.0, "W"};
}

/// Checks |value − expected| <= quantile · standard error + allowance. The quantile leaves 1e-4 outside (Student, freedom =
/// replicates − 1), so that the roughly 200 comparisons of this folder together fail by chance once
/// in fifty choices of the seeds; the seeds are fixed. `allowance` is for what is known to be left out of the expected value;
/// it includes the 24 bits of the random numbers (1e-6 relative).
inline void check_agrees(const std::string& what, const Estimate& estimate, double expected, int freedom, double allowance = 0) {
  const double error = estimate.std_error.value_or(0);
  const double margin = student_quantile(1 - 1e-4, freedom) * error + allowance + 2e-6 * std::abs(expected);
  INFO(what, ": ", estimate.value, " ± ", error, " ", estimate.unit, ", expected ", expected, ", margin ", margin);
  CHECK(std::abs(estimate.value - expected) <= margin);
}

/// Two traces with different seeds: joint standard error; 5 of them (freedom is at least 15 on each side).
inline void check_same(const std::string& what, const Estimate& a, const Estimate& b, double allowance = 0) {
  const double joint = std::hypot(a.std_error.value_or(0), b.std_error.value_or(0));
  INFO(what, ": ", a.value, " and ", b.value, " with joint standard error ", joint);
  CHECK(std::abs(a.value - b.value) <= 5.5 * joint + allowance + 2e-6 * std::abs(a.value));
}

/// Root of a rising function between low and high.
template <class Function>
double root_of(double low, double high, Function rising) {
  for (int i = 0; i < 200; ++i) {
    const double middle = (low + high) / 2;
    (rising(middle) < 0 ? low : high) = middle;
  }
  return (low + high) / 2;
}

/// ∫ f from a to b by the midpoint rule; n cells.
template <class Function>
double integral(double a, double b, int n, Function f) {
  double sum = 0;
  for (int i = 0; i < n; ++i) sum += f(a + (i + 0.5) * (b - a) / n);
  return sum * (b - a) / n;
}

}  // namespace dishwright::test
