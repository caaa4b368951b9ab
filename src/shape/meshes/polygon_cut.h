// SPDX-License-Identifier: MIT
// Faces with more than three corners become triangles.
#pragma once

#include "shape/meshes/mesh_build.h"
#include "shape/meshes/polygons.h"

namespace dishwright {

/// Every face cut into as many triangles as it has corners less two, wound as the face is. A face of four corners is cut from its
/// first to its third where that lies inside; one that is convex as a fan from its first corner; others by ears [meisters1975].
/// Corners need not
/// lie in one plane: they are looked at along the face's area vector. Corners written twice in a row make triangles without area,
/// which build_mesh leaves out and counts.
///
/// Throws BrokenFile where the sides of a face cross each other, seen so, and where cutting would take more than some seconds.
LooseTriangles cut_into_triangles(Polygons polygons);

}  // namespace dishwright
