// SPDX-License-Identifier: MIT
// Meshes from STL, OBJ and PLY files.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "shape/meshes/polygons.h"
#include "shape/meshes/triangle_mesh.h"

namespace dishwright {

struct MeshFile {
  std::shared_ptr<const TriangleMesh> mesh;
  std::vector<std::string> notes;  ///< what was mended, in plain words
};

/// Reads a mesh; a number of the file is `metres_per_unit` metres. Colours, textures and the file's own normals are passed over:
/// the bright side is the side from which the corners of a triangle run counter-clockwise. Places are exact to a double.
///
/// Throws InputError without a place: missing, a folder, over 400 MB, empty, cut off or longer than it says, not a mesh, a face
/// of fewer than 3 or more than 1000 corners or one that crosses itself, over 5 million triangles, NaN or infinity, no triangle
/// with an area, three triangles on an edge, larger than 1 km or smaller than 0.1 mm.
MeshFile load_mesh(const std::filesystem::path& path, double metres_per_unit);

/// The format by the file's ending (capitals do not count). Throws InputError for others.
MeshFormat mesh_format(std::string_view file_name);

}  // namespace dishwright
