// SPDX-License-Identifier: MIT
// From loose triangles to a sheet: corners joined, one winding, normals.
#pragma once

#include <string>
#include <vector>

#include "shape/meshes/triangle_mesh.h"

namespace dishwright {

/// Triangles as a file gives them, in its own unit; corners may be there many times.
struct LooseTriangles {
  std::vector<Vector3> vertices;
  std::vector<std::array<std::uint32_t, 3>> triangles;
};

struct BuiltMesh {
  TriangleMesh mesh;
  std::vector<std::string> notes;  ///< what was mended, in plain words
};

/// Joins equal corners, leaves out triangles without area (height under 1e-9 of the longest side), turns single triangles over so
/// that neighbours are wound one way (each connected part keeps the winding of the larger share of its area), makes normals
/// (shape/mesh_normals.h). Throws InputError without a place: NaN or infinity, no triangle left, three
/// or more triangles on one edge, a one-sided (Möbius) sheet.
BuiltMesh build_mesh(LooseTriangles loose, double metres_per_unit);

}  // namespace dishwright
