// SPDX-License-Identifier: MIT
// The measured surface itself, smooth, as a height over a plane: what can be traced.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "shape/height_grid.h"
#include "shape/height_surface.h"
#include "survey/slope_map.h"

namespace dishwright {

/// z = height(x, y) in a mirror's own frame [m]: continuous with continuous slopes everywhere.
///
/// Depths under a rim: z square to the rim, the origin on the fitted shape under the middle of the rim. Clouds: the fitted
/// shape's own frame (a trough's origin half-way along it). The surface is the fitted shape plus the smoothed residuals (local
/// least squares at the nodes of a square grid, between them bicubic). Waves shorter than about two spacings of the readings are
/// not in it; the roughness of readings is, as far as smoothing leaves it. Beyond the readings the outermost residual goes on
/// level.
class MeasuredSurface : public HeightSurface {
 public:
  MeasuredSurface(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map);

  /// The same grid over other residuals along the normal, one a sample of the map [m], and other lone humps: what another survey
  /// of the same places would give, or a mended surface.
  MeasuredSurface remade(const std::vector<double>& residuals, const std::vector<LoneHump>& humps) const;
  /// The same residuals on the fitted shape after small changes of its numbers.
  MeasuredSurface moved_by(const FitVector& change) const;

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
  /// Where light that comes along −z meets, by the fitted shape: vertex + 2 f · lean, at the height of the focus [m].
  Vector3 meeting() const;
  /// A number that differs between different surfaces: base/fingerprint.h over the fitted shape and all nodes.
  std::uint64_t fingerprint() const;

 private:
  /// What the grid was made of, the same for all surfaces over the same readings.
  struct Weave {
    std::vector<Eigen::Vector2d> places;  ///< of the samples, this frame [m]
    std::vector<double> lift;             ///< height over the plane for each unit of residual
    std::vector<std::size_t> starts, samples;
    std::vector<double> weights;  ///< node k: Σ weights[j] · lifted residual of samples[j], j from starts[k] to starts[k + 1] − 1
  };
  void fitted_heights(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const;
  void add_node(const Eigen::Vector2d& at, const Neighbours& near, const SlopeMap& map, Weave& weave) const;
  void set_nodes(const std::vector<double>& residuals, const std::vector<LoneHump>& humps);
  void add_humps(const std::vector<LoneHump>& humps);

  PlacedShape shape_;
  Eigen::Vector2d lowest_, highest_;
  bool round_ = true, under_rim_ = true;
  std::shared_ptr<const Weave> weave_;
  HeightGrid residuals_;  ///< as heights over the fitted shape
};

/// Slopes dz/dx, dz/dy of a placed shape over the frame it is placed in.
Eigen::Vector2d slope_at(const PlacedShape& shape, double x, double y);

}  // namespace dishwright
