// SPDX-License-Identifier: MIT
// Which surface does a ray meet first? Embree answers in float; the exact point is then found in double on the true surface.
#pragma once

#include <memory>

#include "trace/rays.h"
#include "trace/scene_surfaces.h"

struct RTCGeometryTy;  // of the ray tracing library

namespace dishwright {

/// Which surfaces can be met.
enum class RayMask {
  everything,  ///< after a reflection
  mirrors,     ///< the silhouette toward the sun
  shades,      ///< targets that shade, on the way in
  way_in       ///< mirrors and shading targets, on the way in
};

class World {
 public:
  explicit World(const SurfaceList& list);
  ~World();
  World(const World&) = delete;
  World& operator=(const World&) = delete;

  /// Sets surface, element and distance of rays 0 … n−1: the nearest hit beyond start_gap and before `limit` [m].
  void nearest(RayMask among, RayBlock& rays, float limit) const;
  bool empty(RayMask among) const;
  /// Rough size of float rounding at a point of this surface [m].
  float rounding(int surface) const;
  /// Where hits of rays that start on this surface begin to count [m]: nearer ones are its own. 0 for quadrics, which know
  /// their own start (RayBlock::own_again).
  float start_gap(int surface) const;
  /// Of a height over a plane: how far the grid on which it is looked for may lie from the true surface [m]; else 0. A ray that
  /// leaves at a grazing angle θ is clear of it after error/θ.
  float grid_error(int surface) const;
  /// How far to go from a place on a surface to be outside of the ball that holds every surface [m].
  double way_out() const { return way_out_; }

 private:
  void add_geometry(const Surface& surface);
  void find_middle(const SurfaceList& list);
  RTCGeometryTy* shared(RTCGeometryTy* geometry);
  struct Scenes;
  std::unique_ptr<Scenes> scenes_;
  std::vector<float> rounding_, start_gap_, grid_error_;  // by surface
  Vector3 origin_ = Vector3::Zero();                      // of the numbers in float: the middle of the mirrors
  double way_out_ = 0;
};

}  // namespace dishwright
