// SPDX-License-Identifier: MIT
// One face of a target: the surface that light lands on, and all that is asked of it.
#pragma once

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "base/vector.h"
#include "shape/quadric.h"

namespace dishwright {

/// A rectangle of space along the axes of a frame [m].
struct SpaceBox {
  Vector3 low = Vector3::Zero(), high = Vector3::Zero();
};

/// What a face is and how it lies in the target's own frame.
enum class FaceForm {
  disc,       ///< z = height, about the z axis
  rectangle,  ///< z = height, about the z axis
  upright,    ///< round wall about the z axis, from <= z <= to
  lying,      ///< round wall about the y axis, from <= y <= to
  ball        ///< about the origin
};

/// One face. Own frame of the target; all lengths in metres.
struct TargetFace {
  std::string name;  ///< "front", "all round", "side", "base", "lid"
  FaceForm form = FaceForm::disc;
  double radius = 0;              ///< of a disc, wall or ball
  double half_x = 0, half_y = 0;  ///< of a rectangle
  double from = 0, to = 0;        ///< of a wall, along its axis
  double height = 0;              ///< of a disc or rectangle
  double faces_up = -1;           ///< disc, rectangle: +1 where light comes to it from above (+z), −1 from below
  bool counts = true;             ///< does light that ends on it belong to the target's figures?

  bool flat() const { return form == FaceForm::disc || form == FaceForm::rectangle; }
  double area() const;  ///< [m²]
  /// Diameter of the widest disc that it has room for [m].
  double widest_disc() const;

  struct Point {
    Vector3 place, normal;  ///< normal: unit, toward where light comes from
  };
  /// Even in area for even numbers a, b of 0 … 1.
  Point point(double a, double b) const;
  /// The place on the whole surface (an endless plane or wall, a ball) nearest to p.
  Vector3 nearest(const Vector3& p) const;
  /// Does a place of its own plane or wall belong to it?
  bool holds(const Vector3& p) const;
  /// Does the ray p + t·along, t > 0, meet it from either side?
  bool meets(const Vector3& p, const Vector3& along) const;

  /// Its equation; the gradient points toward where light comes from. The part of it that is there, and the box round it.
  Quadric<double> quadric() const;
  Region<double> region() const;
  SpaceBox box() const;
};

/// A target as the sum of its faces. Faces that count come first; a solid's first face is its wall.
class TargetBody {
 public:
  explicit TargetBody(std::vector<TargetFace> faces) : faces_(std::move(faces)) {}
  const std::vector<TargetFace>& faces() const { return faces_; }
  /// No faces: a point.
  bool is_point() const { return faces_.empty(); }
  /// One flat face with a front.
  bool is_plate() const { return faces_.size() == 1 && faces_[0].flat(); }
  /// The face whose unbounded plane z = 0 spot sizes are measured on: a plate's only one, a pot's base; null where there is none.
  const TargetFace* spot_face() const;
  /// Counted area [m²].
  double area() const;
  /// The shorter of its sides [m]; 0 of a point.
  double smallest_width() const;
  /// Length of the edge of its shadow, or a little more [m].
  double shadow_edge() const;
  SpaceBox box() const;

  /// Depth of a place inside a solid (walls as if their ends were closed) [m]; below 0 outside, −∞ for plates and points.
  double depth_inside(const Vector3& p) const;
  /// The place on or in it that is nearest to p.
  Vector3 nearest(const Vector3& p) const;
  /// Does the ray p + t·along, t > 0, meet it?
  bool meets(const Vector3& p, const Vector3& along) const;
  /// Straight lines across and round it: diameters and sides of a plate, axis lines and rims of a wall, diameters of a ball's
  /// equator.
  std::vector<std::pair<Vector3, Vector3>> lines() const;

 private:
  std::vector<TargetFace> faces_;
};

}  // namespace dishwright
