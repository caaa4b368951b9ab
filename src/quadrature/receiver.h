// SPDX-License-Identifier: MIT
// The target as it receives light: a plane, or a convex body with its faces.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// Plane of the target: own x and y, z along the way light travels when it comes to the front.
struct ImagePlane {
  Vector3 at, across, up, normal;
  explicit ImagePlane(const Pose& pose) : at(pose.at), across(pose.turn.col(0)), up(pose.turn.col(1)), normal(pose.turn.col(2)) {}
};

/// A face by the x, y of its map (MapFace), own frame. All maps are equal in area: 1 m² of map is 1 m² of face.
struct FaceShape {
  enum class Form {
    disc,     ///< a circle at z = `height`, unrolled: x = R × azimuth, y = r²/(2 R)
    upright,  ///< cylinder about z
    lying,    ///< cylinder about y
    ball
  };
  Form form = Form::ball;
  double radius = 0;  ///< R [m]
  double height = 0;  ///< of a disc [m]
  double side = 1;    ///< +1: outer side, or a disc that faces +z; −1: the other

  Vector3 place(double x, double y) const { return place_by(std::cos(x / radius), std::sin(x / radius), y); }
  /// The same by cosine and sine of x / R.
  Vector3 place_by(double cosine, double sine, double y) const;
  /// Outward from the side that is meant.
  Vector3 normal(const Vector3& place) const;
  /// `u` on along x and `v` along y from a place on a cylinder or ball; on a ball distances from it are straight ones.
  Vector3 step(const Vector3& place, double u, double v) const;
  /// Distance along y over which the face turns by as much as `length` on it does [m]; shorter at the poles of a ball.
  double y_scale(double y, double length) const;
};

/// A face of a target with the layout of its map.
struct MappedFace {
  MapFace layout;
  double width() const { return layout.x_to - layout.x_from; }
  double height() const { return layout.y_to - layout.y_from; }
  double cell_area() const { return width() * height() / (layout.columns * layout.rows); }
  /// Diameter of the widest disc that the face has room for [m].
  double widest_disc() const {
    if (flat) return std::min(width(), height());
    return shape.form == FaceShape::Form::ball ? 2 * shape.radius : std::min(2 * shape.radius, height());
  }
  FaceShape shape;    ///< of a curved face
  bool flat = false;  ///< on the target's own plane, light comes to its front: disk, rectangle, base of a pot
};

class Receiver {
 public:
  explicit Receiver(const Target& target);
  /// A disk or rectangle.
  bool flat() const { return body_.is_plate(); }
  /// Light runs along it: a rectangle or a tube.
  bool band() const { return band_; }
  /// A plane that counts: flat, or a pot with its base.
  bool has_plane() const { return has_plane_; }
  const ImagePlane& plane() const { return plane_; }
  /// Of the frame's place or direction.
  Vector3 own_place(const Vector3& place) const { return own_direction(place - plane_.at); }
  Vector3 own_direction(const Vector3& v) const { return {v.dot(plane_.across), v.dot(plane_.up), v.dot(plane_.normal)}; }
  /// Distance along a ray (own frame, unit) to the body; where it passes by, to the place nearest to its axis or middle [m].
  double distance(const Vector3& place, const Vector3& along) const;

  /// Faces that count, laid out as in tracing; `fine` as there [m].
  std::vector<MappedFace> faces(double fine) const;
  /// What does not count but stops light: a pot's lid, the inside of a tube. Bodies only; none for a ball.
  std::vector<MappedFace> other_faces() const;
  /// Can the other faces see this place (own frame)?
  bool others_see(const Vector3& place) const;
  /// Does light from a place (own frame) come to a place on an other face by an open end? Always true for a lid.
  bool enters(const Vector3& from, const Vector3& place) const;

 private:
  /// Its first face: a plate, the wall of a solid, a ball.
  const TargetFace& face() const { return body_.faces()[0]; }

  ImagePlane plane_;
  TargetShape shape_;
  TargetBody body_;
  bool band_ = false, has_plane_ = false;
};

}  // namespace dishwright
