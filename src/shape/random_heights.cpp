// SPDX-License-Identifier: MIT
#include "shape/random_heights.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include "base/sobol.h"

namespace dishwright {

namespace {

constexpr int waves = 128;
constexpr double cells_per_correlation = 6;
constexpr double turn = 2 * std::numbers::pi;

using Complex = std::complex<double>;

struct PlaneWave {
  double x = 0, y = 0, phase = 0;  ///< wave numbers [1/m], phase [rad]
};

/// Wave numbers at the middles of equal shares of the law 1 − exp(−k²c²/4), directions by the golden angle: as even as 128 waves
/// can be.
std::vector<PlaneWave> plane_waves(const Roughness& roughness) {
  const HashedDraws draws(roughness.seed, 0xB0A2DU);
  const double golden = std::numbers::phi - 1, first = static_cast<double>(draws.at(0, 0, Draw::slope_b));
  std::vector<PlaneWave> out;
  out.reserve(waves);
  for (int k = 0; k < waves; ++k) {
    const double number = 2 / roughness.correlation * std::sqrt(-std::log(1 - (k + 0.5) / waves));
    const double direction = turn * (first + k * golden);
    const double phase = turn * static_cast<double>(draws.at(static_cast<std::uint32_t>(k), 1, Draw::slope_a));
    out.push_back({number * std::cos(direction), number * std::sin(direction), phase});
  }
  return out;
}

/// Adds Re e^(i(k·p + phase)) and its slopes [1/cell] at all nodes.
void add_wave(HeightGrid& grid, const PlaneWave& wave) {
  std::vector<Complex> along;
  along.reserve(static_cast<std::size_t>(grid.columns()));
  for (int column = 0; column < grid.columns(); ++column) along.push_back(std::polar(1.0, wave.x * grid.x(column)));
  const double by_x = wave.x * grid.cell(), by_y = wave.y * grid.cell();
  for (int row = 0; row < grid.rows(); ++row) {
    const Complex up = std::polar(1.0, wave.y * grid.y(row) + wave.phase);
    for (int column = 0; column < grid.columns(); ++column) {
      const Complex& a = along[static_cast<std::size_t>(column)];
      const double real = a.real() * up.real() - a.imag() * up.imag(), imaginary = a.real() * up.imag() + a.imag() * up.real();
      HeightGrid::Node& node = grid.node(column, row);
      node.value += real;
      node.by_x -= by_x * imaginary;
      node.by_y -= by_y * imaginary;
      node.by_xy -= by_x * by_y * real;
    }
  }
}

/// Mean over the plan to zero, rms over it to the wanted one.
void normalise(HeightGrid& grid, const PlanOutline& plan, double rms) {
  double sum = 0, squares = 0, count = 0;
  for (int row = 0; row < grid.rows(); ++row) {
    for (int column = 0; column < grid.columns(); ++column) {
      if (!plan.covers(grid.x(column), grid.y(row))) continue;
      const double value = grid.node(column, row).value;
      sum += value, squares += value * value, count += 1;
    }
  }
  // A ring so thin that no node lies on it keeps the law's own rms, √(waves/2).
  const double mean = count > 0 ? sum / count : 0, variance = count > 0 ? squares / count - mean * mean : 0.5 * waves;
  const double scale = rms / std::sqrt(std::max(variance, 1e-3));
  for (HeightGrid::Node& node : grid.nodes()) {
    node.value = (node.value - mean) * scale;
    node.by_x *= scale, node.by_y *= scale, node.by_xy *= scale;
  }
}

}  // namespace

HeightGrid random_half_paths(const Roughness& roughness, const PlanOutline& plan) {
  // A margin of one cell and 1 % of the width: searches overstep the rim.
  const double width = std::max(plan.high_x() - plan.low_x(), plan.high_y() - plan.low_y());
  const double cell = std::min(roughness.correlation / cells_per_correlation, width / 16), margin = cell + 0.01 * width;
  const auto nodes = [&](double from, double to) { return static_cast<int>(std::ceil((to - from + 2 * margin) / cell)) + 1; };
  HeightGrid grid(plan.low_x() - margin, plan.low_y() - margin, cell, nodes(plan.low_x(), plan.high_x()),
                  nodes(plan.low_y(), plan.high_y()));
  for (const PlaneWave& wave : plane_waves(roughness)) add_wave(grid, wave);
  normalise(grid, plan, roughness.rms);
  return grid;
}

}  // namespace dishwright
