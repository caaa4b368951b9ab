// SPDX-License-Identifier: MIT
#include "shape/meshes/mesh_file.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/error.h"
#include "base/files.h"
#include "base/quantity.h"
#include "base/text.h"
#include "shape/meshes/mesh_build.h"
#include "shape/meshes/polygon_cut.h"

namespace dishwright {

namespace {

constexpr std::size_t largest_file = 400'000'000;           // bytes
constexpr double smallest_size = 1e-4, largest_size = 1e3;  // of the box [m]

void check_size(const TriangleMesh& mesh) {
  const double size = (mesh.high - mesh.low).maxCoeff();
  const double farthest = std::max(mesh.high.cwiseAbs().maxCoeff(), mesh.low.cwiseAbs().maxCoeff());
  if (size >= smallest_size && size <= largest_size && farthest <= 10 * largest_size) return;
  const auto words = [](double metres) { return format_quantity(metres, Dimension::length, nullptr); };
  const bool far = size >= smallest_size && size <= largest_size;
  throw InputError(
      far ? fmt::format("it lies {} from its own origin", words(farthest)) : fmt::format("it is {} across", words(size)),
      "a mesh is 0.1 mm to 1 km across and within 10 km of its origin",
      "say which unit its numbers are in, such as unit = \"mm\"");
}

}  // namespace

MeshFormat mesh_format(std::string_view file_name) {
  std::string ending(file_name.substr(std::min(file_name.rfind('.'), file_name.size())));
  for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (ending == ".stl") return MeshFormat::stl;
  if (ending == ".obj") return MeshFormat::obj;
  if (ending == ".ply") return MeshFormat::ply;
  throw FileRefused(fmt::format("{} is not a mesh file by its name", clipped(file_name, 60)),
                    "meshes are read from .stl, .obj and .ply files", "export the mesh as STL, OBJ or PLY");
}

MeshFile load_mesh(const std::filesystem::path& path, double metres_per_unit) {
  const MeshFormat format = mesh_format(path.filename().string());
  LooseTriangles loose;
  try {
    // The bytes go as soon as they are read.
    loose = cut_into_triangles(read_polygons(read_file(path, largest_file), format, Wanted::surface));
  } catch (const BrokenFile& broken) {
    const std::string where = broken.line > 0 ? fmt::format("line {}: ", broken.line) : "";
    throw InputError(where + broken.what(), broken.why, broken.fix.empty() ? "export the mesh again" : broken.fix);
  }
  BuiltMesh built = build_mesh(std::move(loose), metres_per_unit);
  check_size(built.mesh);
  return {std::make_shared<const TriangleMesh>(std::move(built.mesh)), std::move(built.notes)};
}

}  // namespace dishwright
