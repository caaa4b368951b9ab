// SPDX-License-Identifier: MIT
// The nearest of many places in a plane.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace dishwright {

struct Neighbour {
  std::size_t index = 0;
  double distance = 0;  ///< [m]
};

/// Finds the nearest of given places; a grid of cells with about two places each.
class Neighbours {
 public:
  explicit Neighbours(std::vector<Eigen::Vector2d> places);

  /// The `count` nearest (all, where there are fewer), nearest first; equal distances in the order of the places.
  std::vector<Neighbour> nearest(const Eigen::Vector2d& from, std::size_t count) const;
  /// The `count` nearest, and all others within `reach` [m].
  std::vector<Neighbour> nearest_and_within(const Eigen::Vector2d& from, std::size_t count, double reach) const;
  const std::vector<Eigen::Vector2d>& places() const { return places_; }
  const Eigen::Vector2d& lowest() const { return lowest_; }
  const Eigen::Vector2d& highest() const { return highest_; }

 private:
  int column(double x) const;
  int row(double y) const;
  void look_in(int column, int row, const Eigen::Vector2d& from, std::vector<Neighbour>& found) const;

  std::vector<Eigen::Vector2d> places_;
  Eigen::Vector2d lowest_, highest_;
  double cell_ = 1;
  int columns_ = 1, rows_ = 1;
  std::vector<std::size_t> starts_, order_;  // places of cell c: order_[starts_[c]] … order_[starts_[c + 1] − 1]
};

}  // namespace dishwright
