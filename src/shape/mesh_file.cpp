// SPDX-License-Identifier: MIT
#include "shape/mesh_file.h"

#include <fmt/format.h>

#include <assimp/config.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <assimp/Importer.hpp>

#include "base/error.h"
#include "base/files.h"
#include "base/quantity.h"
#include "base/text.h"
#include "shape/mesh_build.h"
#include "shape/mesh_precheck.h"

namespace dishwright {

namespace {

constexpr std::size_t largest_file = 400'000'000;           // bytes
constexpr double smallest_size = 1e-4, largest_size = 1e3;  // of the box [m]

LooseTriangles gather(const aiScene& scene) {
  LooseTriangles loose;
  for (unsigned m = 0; m < scene.mNumMeshes; ++m) {
    const aiMesh& mesh = *scene.mMeshes[m];
    const auto base = static_cast<std::uint32_t>(loose.vertices.size());
    for (unsigned i = 0; i < mesh.mNumVertices; ++i) {
      const aiVector3D& v = mesh.mVertices[i];
      loose.vertices.emplace_back(v.x, v.y, v.z);
    }
    for (unsigned i = 0; i < mesh.mNumFaces; ++i) {
      const aiFace& face = mesh.mFaces[i];
      if (face.mNumIndices != 3) continue;  // points and lines
      loose.triangles.push_back({base + face.mIndices[0], base + face.mIndices[1], base + face.mIndices[2]});
      if (loose.triangles.size() > most_mesh_triangles)
        throw InputError("there are too many triangles in it", most_words, "export it coarser");
    }
  }
  return loose;
}

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

MeshFile load_mesh(const std::filesystem::path& path, double metres_per_unit) {
  const MeshFormat format = mesh_format(path.filename().string());
  std::string text = checked_mesh_text(read_file(path, largest_file), format);

  Assimp::Importer importer;
  importer.SetPropertyInteger(AI_CONFIG_PP_RVC_FLAGS, aiComponent_NORMALS | aiComponent_COLORS | aiComponent_TEXCOORDS |
                                                          aiComponent_TEXTURES | aiComponent_MATERIALS);
  const char* hint = format == MeshFormat::stl ? "stl" : format == MeshFormat::obj ? "obj" : "ply";
  const aiScene* scene =
      importer.ReadFileFromMemory(text.data(), text.size(), aiProcess_RemoveComponent | aiProcess_Triangulate, hint);
  if (scene == nullptr) {
    throw InputError("the mesh cannot be read", clipped(importer.GetErrorString(), 100), "export it again, as binary STL or PLY");
  }
  std::string().swap(text);
  LooseTriangles loose = gather(*scene);
  importer.FreeScene();

  BuiltMesh built = build_mesh(std::move(loose), metres_per_unit);
  check_size(built.mesh);
  return {std::make_shared<const TriangleMesh>(std::move(built.mesh)), std::move(built.notes)};
}

}  // namespace dishwright
