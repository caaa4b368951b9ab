// SPDX-License-Identifier: MIT
// Quadrature and tracing side by side: every figure within the joint error.
#pragma once

#include <algorithm>
#include <optional>

#include "quadrature/quadrature.h"
#include "scenes.h"

namespace dishwright::test {

inline void check_pair(const std::string& what, const std::optional<Estimate>& q, const std::optional<Estimate>& t,
                       double allowance = 0) {
  INFO(what);
  REQUIRE(q.has_value() == t.has_value());
  if (q) check_same(what, *q, *t, allowance);
}

/// Light by blocks of the map (both have the same layout): sum of the differences over what it would be on average if the trace's
/// paths were independent, √(2/π) Σ √(share (1 − share) / landed). They are not, so it is less than one; 0.2 to 0.9 in these
/// scenes.
inline double block_difference(const MapFace& a, const MapFace& b, double landed) {
  constexpr int blocks = 8;
  std::vector<double> difference(blocks * blocks, 0), share(blocks * blocks, 0);
  double all = 0;
  for (int row = 0; row < b.rows; ++row) {
    for (int column = 0; column < b.columns; ++column) {
      const std::size_t i = static_cast<std::size_t>(row * b.columns + column);
      const std::size_t block = static_cast<std::size_t>(row * blocks / b.rows * blocks + column * blocks / b.columns);
      difference[block] += a.irradiance[i] - b.irradiance[i];
      share[block] += a.irradiance[i];
      all += a.irradiance[i];
    }
  }
  double sum = 0, chance = 0;
  for (std::size_t k = 0; k < share.size(); ++k) {
    sum += std::abs(difference[k]) / all;
    chance += std::sqrt(2 / pi * std::max(0.0, share[k] / all * (1 - share[k] / all)) / landed);
  }
  return sum / chance;
}

/// Estimates' values, 0 where there is none.
inline double value_of(const std::optional<Estimate>& figure) { return figure ? figure->value : 0; }

inline void check_map(const MapFace& a, const MapFace& b, const TraceFigures& t) {
  CAPTURE(b.name);
  double power = 0;
  for (const double cell : b.irradiance) power += cell * (b.x_to - b.x_from) * (b.y_to - b.y_from) / (b.columns * b.rows);
  // On a face with little light the few blocks that have it are no sum of many.
  if (power > 1e-2 * t.aperture_power.value)
    CHECK(block_difference(a, b, static_cast<double>(t.paths) * power / t.aperture_power.value) < 1.1);
}

/// With the map laid out as this face.
inline TraceFigures laid_out_as(const MapFace& face, const Scene& made) {
  QuadratureOptions options;
  options.columns = face.columns, options.rows = face.rows;
  return quadrature_figures(made, options);
}

/// `strips`: share by which rays may tell the peak lower than it is, where the brightest light is a strip at the end of a shadow,
/// narrower than a cell of the window in which they count (decision 16).
inline void check_two_methods(const std::string& name, const Scene& made, double strips = 0) {
  INFO(name);
  const auto no = quadrature_refusal(made);
  INFO("refused: ", no ? no->why : "");
  REQUIRE_FALSE(no);
  TraceFigures t = traced(made);
  const TraceFigures q = laid_out_as(t.targets[0].map[0], made);
  const TargetFigures &a = q.targets[0], &b = t.targets[0];
  // Half-shade at the shadow's edge is left out by the quadrature: 1e-4 of the light at most in these scenes.
  const double soft = 2e-5;
  check_pair("aperture", q.aperture_power, t.aperture_power);
  check_pair("power", a.power, b.power, soft * b.power.value);
  // The tracer loses some of the rays that run along a pot's side, grazing it.
  check_pair("direct", a.direct_power, b.direct_power,
             1e-3 * b.direct_power.value + (b.centroid ? 0 : 1e-5 * t.aperture_power.value));
  check_pair("intercept", a.intercept, b.intercept, soft);
  // On a body the disc's width follows the tracer's short first run.
  check_pair("peak", a.peak_irradiance, b.peak_irradiance, (b.centroid ? strips : 5e-3) * value_of(b.peak_irradiance));
  check_pair("width 50", a.spot_width_50, b.spot_width_50, 1e-4 * value_of(b.spot_width_50));
  check_pair("width 90", a.spot_width_90, b.spot_width_90, 1e-4 * value_of(b.spot_width_90));
  check_pair("rms radius", a.spot_rms_radius, b.spot_rms_radius, 1e-4 * value_of(b.spot_rms_radius));
  REQUIRE(a.centroid.has_value() == b.centroid.has_value());
  for (const std::size_t axis : {0U, 1U})
    if (a.centroid) check_pair("centroid", (*a.centroid)[axis], (*b.centroid)[axis], 1e-4 * value_of(b.spot_rms_radius));
  for (const LedgerLine& line : t.ledger)
    check_same(line.where, ledger(q, line.where), line.power, 3e-5 * t.aperture_power.value);
  check_map(a.map[0], b.map[0], t);
  for (std::size_t face = 1; face < b.map.size(); ++face)
    check_map(laid_out_as(b.map[face], made).targets[0].map[face], b.map[face], t);
}

/// A mirror and a target that throws a shadow, the sun beside the axis.
inline Scene one(const ReflectorShape& shape, double slope, const TargetShape& face, const Vector3& at, double aim = 0) {
  Scene made = scene(limb_sun(), mirror(shape, slope), target(face, at), 1'000'000, 12);
  made.sun.aim_error = aim, made.sun.aim_direction = 0.7;
  made.targets[0].shades = true;
  return made;
}

}  // namespace dishwright::test
