// SPDX-License-Identifier: MIT
// Which part of a mirror the sun's centre sees past the target.
#pragma once

#include <array>
#include <vector>

#include "scene/mirror_patches.h"

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
    int from_edge = -1, to_edge = -1;  ///< which edge of the shadow ends it; -1: the mirror's own
  };
  std::vector<Stretch> lit(const MirrorPatch& patch, double v) const {
    return any_ ? lit(patch, line(patch, v), fine_) : std::vector<Stretch>{{}};
  }
  /// The same shadow with its edges found to 1e-6 of half the target's width only.
  Shadow roughly() const {
    Shadow out = *this;
    out.fine_ = rough;
    return out;
  }
  /// Places of a patch that changes() looks at first: the same for every shadow.
  using Places = std::vector<Vector3>;
  static Places places(const MirrorPatch& patch);
  /// Values of v (sorted) at which the number of lit stretches or the edges that end them change: the shadow begins or ends
  /// there, or has a corner. Of shadows that fall between its lines it finds those whose middle shows as a dip.
  std::vector<double> changes(const MirrorPatch& patch, const Places& places) const;
  std::vector<double> changes(const MirrorPatch& patch) const { return changes(patch, any_ ? places(patch) : Places()); }
  /// How far a place is outside of the shadow [m]; negative inside.
  double outside(const MirrorPatch& patch, double u, double v) const { return beyond(patch.at(u, v).place).by; }

 private:
  static constexpr int edge_count = 3;
  static constexpr int probes = 24;  // along a line of u
  // Of half the target's width, to which the edge of a shadow is found: for the light; and to tell which edges end a line.
  static constexpr double finest = 1e-12, rough = 1e-6;
  /// A line of constant v, how far its probes are outside of the shadow [m], and the least of that.
  struct Line {
    double v = 0;
    std::array<double, probes + 1> at{};
    double nearest = 0;
  };
  struct Edges {
    double sign[edge_count];  // negative inside
  };
  /// How far a place is outside of the shadow [m, negative inside], and beyond which edge.
  struct Outside {
    double by = 0;
    int edge = 0;
  };
  Edges edges(const Vector3& place) const;
  Edges body_edges(const Vector3& place) const;
  Outside beyond(const Vector3& place) const;
  Line line(const MirrorPatch& patch, double v) const;
  Line line(const Vector3* places, double v) const;
  std::vector<Line> lines_to_look_at(const MirrorPatch& patch, const Places& places) const;
  // `fine`: of half the target's width, to which edges are found.
  Stretch root(const MirrorPatch& patch, double v, double from, double to, double fine) const;
  std::vector<Stretch> breaks(const MirrorPatch& patch, const Line& line, double fine) const;
  std::vector<Stretch> lit(const MirrorPatch& patch, const Line& line, double fine) const;

  enum class Form { disk, rectangle, cylinder, ball };
  bool any_ = false;
  double fine_ = finest;
  bool round_ends_ = false;  // of a cylinder: its ends show as ellipses that go over into its sides without a corner
  Form form_ = Form::disk;
  double half_x_ = 0, half_y_ = 0;   // of a cylinder: radius, half length [m]
  double lean_ = 0, long_half_ = 0;  // of a cylinder: cosine of its axis and the sun; half its length as the sun sees it [m]
  Vector3 aside_ = Vector3::Zero();  // of a cylinder: across its axis as the sun sees it
  Vector3 at_, across_, up_, normal_, sun_;  // the middle; of a cylinder its axis is up_, of a pot or ball too
};

}  // namespace dishwright
