// SPDX-License-Identifier: MIT
// A mirror of triangles.
#pragma once

#include "shape/meshes/triangle_mesh.h"
#include "shape/mirror_shape.h"

namespace dishwright {

/// Triangles; smooth: the normal runs evenly from corner to corner; else each triangle is flat.
struct Mesh {
  static constexpr ShapeWords words{"mesh", "a mesh"};
  static constexpr bool in_flat_pieces = true;
  std::shared_ptr<const TriangleMesh> mesh;
  bool smooth = true;

  /// The larger side of its box across z [m].
  double rim_width() const { return (mesh->high - mesh->low).head<2>().maxCoeff(); }
  std::vector<ShapeValue> values() const { return {mesh->fingerprint, std::uint64_t{smooth}}; }
  /// The ring round its box, about the z axis.
  PlanOutline plan() const { return ring(rim_width(), 0); }
  HeightRange height_range() const { return {mesh->low.z(), mesh->high.z()}; }
  /// One for each triangle.
  Patches patches() const;
  std::string details(const LengthWords& say) const;
};

}  // namespace dishwright
