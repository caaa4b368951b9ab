// SPDX-License-Identifier: MIT
// Heights at the nodes of an even grid, smooth in between.
#pragma once

#include <cstddef>
#include <vector>

namespace dishwright {

/// Height and slopes at a place.
struct GridHeight {
  double height = 0;                ///< [m]
  double slope_x = 0, slope_y = 0;  ///< [1]
};

/// A height over x, y: bicubic (Hermite) between the nodes, so that heights and slopes are continuous. Beyond the grid its edge
/// goes on level.
class HeightGrid {
 public:
  struct Node {
    double value = 0, by_x = 0, by_y = 0, by_xy = 0;  ///< height and its slopes, in metres and cells
  };

  HeightGrid() = default;
  /// `columns`, `rows` >= 2 nodes, `cell` apart [m], the first at (x_first, y_first) [m]; all heights 0.
  HeightGrid(double x_first, double y_first, double cell, int columns, int rows);

  GridHeight at(double x, double y) const;
  /// Slopes at the nodes from the values around them (central differences, one-sided at the edge), so that values and slopes
  /// agree.
  void slopes_from_values();

  Node& node(int column, int row) { return nodes_[static_cast<std::size_t>(row * columns_ + column)]; }
  const Node& node(int column, int row) const { return nodes_[static_cast<std::size_t>(row * columns_ + column)]; }
  double x(int column) const { return x_first_ + column * cell_; }
  double y(int row) const { return y_first_ + row * cell_; }
  double cell() const { return cell_; }
  int columns() const { return columns_; }
  int rows() const { return rows_; }
  std::vector<Node>& nodes() { return nodes_; }  ///< row by row
  const std::vector<Node>& nodes() const { return nodes_; }

 private:
  double x_first_ = 0, y_first_ = 0, cell_ = 1;
  int columns_ = 0, rows_ = 0;
  std::vector<Node> nodes_;
};

}  // namespace dishwright
