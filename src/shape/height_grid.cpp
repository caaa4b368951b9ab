// SPDX-License-Identifier: MIT
#include "shape/height_grid.h"

#include <algorithm>
#include <array>

namespace dishwright {

namespace {

/// Cubic Hermite basis on 0 … 1 (value left, value right, slope left, slope right) and its derivative.
struct Hermite {
  std::array<double, 4> value, slope;
};
Hermite hermite(double t) {
  const double t2 = t * t, t3 = t2 * t;
  return {{2 * t3 - 3 * t2 + 1, -2 * t3 + 3 * t2, t3 - 2 * t2 + t, t3 - t2},
          {6 * t2 - 6 * t, -6 * t2 + 6 * t, 3 * t2 - 4 * t + 1, 3 * t2 - 2 * t}};
}

}  // namespace

HeightGrid::HeightGrid(double x_first, double y_first, double cell, int columns, int rows)
    : x_first_(x_first),
      y_first_(y_first),
      cell_(cell),
      columns_(columns),
      rows_(rows),
      nodes_(static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows)) {}

void HeightGrid::slopes_from_values() {
  const auto across = [this](int column, int row, double Node::*part) {
    const int left = std::max(0, column - 1), right = std::min(columns_ - 1, column + 1);
    return (node(right, row).*part - node(left, row).*part) / (right - left);
  };
  for (int row = 0; row < rows_; ++row) {
    const int under = std::max(0, row - 1), over = std::min(rows_ - 1, row + 1);
    for (int column = 0; column < columns_; ++column) {
      node(column, row).by_x = across(column, row, &Node::value);
      node(column, row).by_y = (node(column, over).value - node(column, under).value) / (over - under);
    }
  }
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) node(column, row).by_xy = across(column, row, &Node::by_y);
  }
}

GridHeight HeightGrid::at(double x, double y) const {
  const double free_u = (x - x_first_) / cell_, free_v = (y - y_first_) / cell_;
  const double u = std::clamp(free_u, 0.0, columns_ - 1.0), v = std::clamp(free_v, 0.0, rows_ - 1.0);
  const int column = std::min(columns_ - 2, static_cast<int>(u)), row = std::min(rows_ - 2, static_cast<int>(v));
  const Hermite across = hermite(u - column), up = hermite(v - row);
  double height = 0, by_x = 0, by_y = 0;
  for (std::size_t i = 0; i < 2; ++i) {
    for (std::size_t j = 0; j < 2; ++j) {
      const Node& n = node(column + static_cast<int>(i), row + static_cast<int>(j));
      // Along y first, for the node's value and for its slope along x.
      const double value = n.value * up.value[j] + n.by_y * up.value[j + 2],
                   climb = n.value * up.slope[j] + n.by_y * up.slope[j + 2];
      const double lean = n.by_x * up.value[j] + n.by_xy * up.value[j + 2],
                   lean_climb = n.by_x * up.slope[j] + n.by_xy * up.slope[j + 2];
      height += across.value[i] * value + across.value[i + 2] * lean;
      by_x += across.slope[i] * value + across.slope[i + 2] * lean;
      by_y += across.value[i] * climb + across.value[i + 2] * lean_climb;
    }
  }
  return {height, u == free_u ? by_x / cell_ : 0, v == free_v ? by_y / cell_ : 0};
}

}  // namespace dishwright
