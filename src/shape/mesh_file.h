// SPDX-License-Identifier: MIT
// Meshes from STL, OBJ and PLY files.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "shape/triangle_mesh.h"

namespace dishwright {

struct MeshFile {
  std::shared_ptr<const TriangleMesh> mesh;
  std::vector<std::string> notes;  ///< what was mended, in plain words
};

/// Reads a mesh; a number of the file is `metres_per_unit` metres. Colours, textures and the file's own normals are passed over: the bright side
/// is the side from which the corners of a triangle run counter-clockwise. Places are exact to 7 digits (the library's float).
///
/// Throws InputError without a place: missing, a folder, over 400 MB, empty, cut off, not a mesh, over 5 million triangles, NaN or infinity, no
/// triangle with an area, three triangles on an edge, larger than 1 km or smaller than 0.1 mm.
MeshFile load_mesh(const std::filesystem::path& path, double metres_per_unit);

}  // namespace dishwright
