// SPDX-License-Identifier: MIT
// Where mirrors end: what can stand in the way of what.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "scene/mirror_patches.h"
#include "shape/quadric.h"

namespace dishwright {

/// A mirror as a height over its plan, or as flat tiles. Own frame.
class Outline {
 public:
  explicit Outline(const Reflector& mirror);

  /// One flat tile as a convex polygon, own frame of the mirror; round tiles have 24 corners just outside.
  struct TileOutline {
    Vector3 middle, normal;
    std::vector<Vector3> corners;  ///< counter-clockwise seen from the bright side
    double reach = 0;              ///< of the corners from the middle [m]
    double area = 0;               ///< of the tile itself [m²]
  };
  const std::vector<TileOutline>& tiles() const { return tiles_; }
  /// Neither a mesh nor a mirror that is bright on its far side is known here.
  bool known() const { return known_; }
  /// A mesh.
  bool triangles() const { return triangles_; }
  bool flat() const { return flat_; }
  /// Height of the highest place of the rim [m].
  double top() const { return top_; }

  double height(double x, double y) const { return height_(x, y); }
  /// Would the place be behind the mirror, or beside it below the rim, so that light from the mirror may not reach it?
  bool hides(const Vector3& own) const;
  /// Area that the sun in this direction (own frame, bright side everywhere) sees [m²].
  double silhouette(const Vector3& own_sun) const;
  /// Does the straight way from a place in a direction (own frame) meet the mirror? A hole counts as mirror where the mirror is
  /// no quadric.
  bool blocks(const Vector3& own, const Vector3& direction) const;
  /// Where a line in plan from a place over the mirror comes to its rim (not tiles).
  Vector3 rim_point(const Vector3& own, const Eigen::Vector2d& toward) const;
  /// How far in plan a place over the mirror is from its rim (not tiles) [m].
  double rim_distance(const Vector3& own) const;

 private:
  bool over(const Vector3& own) const;
  bool meets_quadric(const Vector3& own, const Vector3& direction) const;
  bool meets_tile(const Vector3& own, const Vector3& direction) const;
  bool meets_height(const Vector3& own, const Vector3& direction) const;

  bool known_ = true, flat_ = false, triangles_ = false;
  PlanOutline plan_;
  std::function<double(double x, double y)> height_;
  std::optional<Quadric<double>> quadric_;  // convex, goes on beyond the rim
  std::vector<TileOutline> tiles_;
  double top_ = 0, low_ = 0;
  int rim_steps_ = 256;
};

}  // namespace dishwright
