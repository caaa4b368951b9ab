// SPDX-License-Identifier: MIT
// The measured surface itself, smooth, as a height over a plane: what can be traced.
#pragma once

#include <vector>

#include "shape/height_surface.h"
#include "survey/slope_map.h"

namespace dishwright {

/// z = height(x, y) in a mirror's own frame [m]: continuous with continuous slopes everywhere.
///
/// Depths under a rim: z square to the rim, the origin on the fitted shape under the middle of the rim. Clouds: the fitted shape's own
/// frame. The surface is the fitted shape plus the smoothed residuals (local least squares at the nodes of a square grid, between them
/// bicubic). Waves shorter than about two spacings of the readings are not in it; the roughness of readings is, as far as smoothing leaves it.
class MeasuredSurface : public HeightSurface {
 public:
  MeasuredSurface(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map);

  void heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const override;
  double height(double x, double y) const;          ///< [m]
  Eigen::Vector2d slope(double x, double y) const;  ///< dz/dx, dz/dy
  /// Inside what was measured: the box of the readings, the ellipse in it for bowls.
  bool covers(double x, double y) const;
  /// The fitted shape alone, without the residuals.
  double fitted_height(double x, double y) const;
  /// Corners of the box of the readings [m].
  const Eigen::Vector2d& lowest() const { return lowest_; }
  const Eigen::Vector2d& highest() const { return highest_; }
  /// The fitted shape in this frame; its focus is the mirror's focus.
  const PlacedShape& shape() const { return shape_; }

 private:
  struct Node {
    double value = 0, by_x = 0, by_y = 0, by_xy = 0;  // residual height and its slopes, in metres and cells
  };
  double node_value(const Eigen::Vector2d& at, const Neighbours& near, const std::vector<double>& lifts,
                    const SlopeMap& map) const;
  void add_humps(const SlopeMap& map, const std::vector<Eigen::Vector2d>& places);
  void node_slopes();
  Node& node(int column, int row) { return nodes_[static_cast<std::size_t>(row * columns_ + column)]; }
  const Node& node(int column, int row) const { return nodes_[static_cast<std::size_t>(row * columns_ + column)]; }
  /// Residual height and its slopes at a place.
  Eigen::Vector3d residual(double x, double y) const;

  PlacedShape shape_;
  Eigen::Vector2d lowest_, highest_, corner_;
  double cell_ = 1;
  int columns_ = 0, rows_ = 0;
  bool round_ = true;
  std::vector<Node> nodes_;
};

/// Slopes dz/dx, dz/dy of a placed shape over the frame it is placed in.
Eigen::Vector2d slope_at(const PlacedShape& shape, double x, double y);

}  // namespace dishwright
