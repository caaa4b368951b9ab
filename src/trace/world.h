// SPDX-License-Identifier: MIT
// Which piece does a ray meet first? Embree answers in float; the exact point is then found in double on the true surface.
#pragma once

#include <memory>

#include "trace/piece.h"
#include "trace/rays.h"

struct RTCGeometryTy;  // of the ray tracing library

namespace dishwright {

/// Which pieces can be met.
enum class RayMask {
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
  void nearest(RayMask among, RayBlock& rays, float limit) const;
  bool empty(RayMask among) const;
  /// Rough size of float rounding at a point of this piece [m].
  float rounding(int piece) const;
  /// Where hits of rays that start on this piece begin to count [m]: nearer ones are its own surface. 0 for quadrics, which know
  /// their own start (RayBlock::own_again).
  float start_gap(int piece) const;
  /// Of a height over a plane: how far the grid on which it is looked for may lie from the true surface [m]; 0 for other pieces.
  /// A ray that leaves at a grazing angle θ is clear of it after error/θ.
  float grid_error(int piece) const;
  /// How far to go from a place on a piece to be outside of the ball that holds every piece [m].
  double way_out() const { return way_out_; }

 private:
  void add_geometry(const Piece& piece);
  void find_middle(const PieceList& list);
  RTCGeometryTy* shared(RTCGeometryTy* geometry);
  struct Scenes;
  std::unique_ptr<Scenes> scenes_;
  std::vector<float> rounding_, start_gap_, grid_error_;  // by piece
  Vector3 origin_ = Vector3::Zero();                      // of the numbers in float: the middle of the mirrors
  double way_out_ = 0;
};

}  // namespace dishwright
