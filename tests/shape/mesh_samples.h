// SPDX-License-Identifier: MIT
// Mesh files for tests, written here by the formats' own rules.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "shape/meshes/mesh_build.h"

namespace dishwright::testing {

/// z = r²/(4 f) over a square of the given width, n × n cells of two triangles each, bright side up.
LooseTriangles sampled_paraboloid(double focal_length, double width, int n);

std::string as_stl(const LooseTriangles& mesh);  ///< binary
std::string as_stl_text(const LooseTriangles& mesh);
std::string as_obj(const LooseTriangles& mesh);
std::string as_ply(const LooseTriangles& mesh, bool binary, bool big_endian = false);

/// A file in a fresh folder, gone with the object.
class TemporaryFile {
 public:
  TemporaryFile(const std::string& name, const std::string& content);
  ~TemporaryFile();
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  std::filesystem::path path;
};

}  // namespace dishwright::testing
