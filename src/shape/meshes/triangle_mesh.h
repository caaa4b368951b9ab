// SPDX-License-Identifier: MIT
// A surface of triangles.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/vector.h"

namespace dishwright {

/// Corners shared by neighbouring triangles, all wound one way: counter-clockwise seen from the bright side.
struct TriangleMesh {
  std::vector<Vector3> vertices;                          ///< [m]
  std::vector<std::array<std::uint32_t, 3>> triangles;    ///< indices of vertices; none has zero area
  std::vector<Vector3> normals;                           ///< unit normal of each vertex, bright side: shape/mesh_normals.h
  Vector3 low = Vector3::Zero(), high = Vector3::Zero();  ///< box [m]
  std::uint64_t fingerprint = 0;                          ///< of the vertices and triangles; equal meshes have equal ones
};

/// Unit normal of a triangle, on the bright side.
Vector3 face_normal(const TriangleMesh& mesh, std::size_t triangle);

}  // namespace dishwright
