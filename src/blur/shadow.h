// SPDX-License-Identifier: MIT
// Which part of a mirror the sun's centre sees past the target.
#pragma once

#include <vector>

#include "scene/mirror_patch.h"

namespace dishwright {

/// The shadow that a target throws along the sun's central ray. The half-shade that the sun's width makes at its edge is left
/// out: the light is the same in all, its place on the mirror wrong by at most half_angle × distance.
class Shadow {
 public:
  /// `sun` is the unit vector toward the sun's centre.
  Shadow(const Target& target, const Vector3& sun);
  bool any() const { return any_; }

  /// Stretches of u that are lit on the line v = constant, by rising u.
  struct Stretch {
    double from = 0, to = 1;
  };
  std::vector<Stretch> lit(const MirrorPatch& patch, double v) const;
  /// Values of v at which the number of lit stretches changes (sorted): the shadow begins or ends there.
  std::vector<double> changes(const MirrorPatch& patch) const;

 private:
  static constexpr int edge_count = 4;
  struct Edges {
    double sign[edge_count];  // negative inside
  };
  Edges edges(const Vector3& place) const;
  Edges body_edges(const Vector3& place) const;
  double root(const MirrorPatch& patch, double v, int edge, double from, double to) const;

  enum class Form { disk, rectangle, cylinder, ball };
  bool any_ = false;
  Form form_ = Form::disk;
  double half_x_ = 0, half_y_ = 0;           // of a cylinder: radius, half length [m]
  Vector3 at_, across_, up_, normal_, sun_;  // the middle; of a cylinder its axis is up_, of a pot or ball too
};

}  // namespace dishwright
