// SPDX-License-Identifier: MIT
// Which piece does a ray meet first? Embree answers in float; the exact point is then found in double on the true surface.
#pragma once

#include <memory>

#include "trace/piece.h"
#include "trace/rays.h"

struct RTCGeometryTy;  // of the ray tracing library

namespace dishwright {

/// Which pieces can be met.
enum class Among {
  everything,  ///< after a reflection
  mirrors,     ///< the silhouette toward the sun
  shades,      ///< targets that shade, on the way in
  way_in       ///< mirrors and shading targets, on the way in
};

class World {
 public:
  explicit World(const PieceList& list);
  ~World();
  World(const World&) = delete;
  World& operator=(const World&) = delete;

  /// Sets piece, element and distance of rays 0 … n−1: the nearest hit beyond start_gap and before `limit` [m].
  void nearest(Among among, RayBlock& rays, float limit) const;
  bool empty(Among among) const;
  /// Rough size of float rounding at a point of this piece [m]; hits nearer than this to a ray's start are its own surface.
  float start_gap(int piece) const;
  /// Radius about the frame's origin that holds every piece [m].
  double reach() const { return reach_; }

 private:
  void add_geometry(const Piece& piece);
  RTCGeometryTy* shared(RTCGeometryTy* geometry);
  struct Scenes;
  std::unique_ptr<Scenes> scenes_;
  std::vector<float> start_gap_;
  double reach_ = 0;
};

}  // namespace dishwright
