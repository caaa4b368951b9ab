// SPDX-License-Identifier: MIT
// Which surface does a ray meet first? A search answers in float; the exact point is then found in double on the true surface.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "trace/surface_search.h"

namespace dishwright {

class World {
 public:
  explicit World(const SurfaceList& list, SearchBy search = SearchBy::scene);

  /// Sets surface, element and distance of rays 0 … n−1: the nearest hit beyond start_gap and before `limit` [m].
  void nearest(RayMask among, RayBlock& rays, float limit) const {
    if (rays.n > 0) search_->nearest(among, rays, limit);
  }
  bool empty(RayMask among) const { return empty_[static_cast<std::size_t>(among)]; }
  /// Rough size of float rounding at a point of this surface [m].
  float rounding(int surface) const { return rounding_[static_cast<std::size_t>(surface)]; }
  /// Where hits of rays that start on this surface begin to count [m]: nearer ones are its own. 0 for quadrics, which know
  /// their own start (RayBlock::own_again).
  float start_gap(int surface) const { return start_gap_[static_cast<std::size_t>(surface)]; }
  /// Of a height over a plane: how far the grid on which it is looked for may lie from the true surface [m]; else 0. A ray that
  /// leaves at a grazing angle θ is clear of it after error/θ.
  float grid_error(int surface) const { return search_->grid_error(surface); }
  /// Boxes, each of which holds all of one shading target, in the frame.
  struct Body {
    Vector3 middle = Vector3::Zero();
    Matrix3 half_axes = Matrix3::Zero();  ///< by column: from the middle to that of a side [m]
  };
  const std::vector<Body>& shading_bodies() const { return shading_bodies_; }
  /// How far to go from a place on a surface to be outside of the ball that holds every surface [m].
  double way_out() const { return way_out_; }

 private:
  void find_middle(const SurfaceList& list);
  void find_bodies(const SurfaceList& list);
  std::unique_ptr<SurfaceSearch> search_;
  std::array<bool, mask_count> empty_{};
  std::vector<float> rounding_, start_gap_;  // by surface
  Vector3 origin_ = Vector3::Zero();         // of the numbers in float: the middle of the mirrors
  double way_out_ = 0;
  std::vector<Body> shading_bodies_;
};

}  // namespace dishwright
