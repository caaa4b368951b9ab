// SPDX-License-Identifier: MIT
#include "shape/mesh.h"

#include <fmt/format.h>

namespace dishwright {

Patches Mesh::patches() const {
  Patches all;
  all.reserve(mesh->triangles.size());
  for (std::size_t t = 0; t < mesh->triangles.size(); ++t) {
    MirrorPatch patch;
    patch.triangle = true;
    patch.at = [mesh = mesh, t, smooth = smooth](double u, double v) {
      const std::uint32_t a = mesh->triangles[t][0], b = mesh->triangles[t][1], c = mesh->triangles[t][2];
      const double of_a = 1 - u, of_b = u * (1 - v), of_c = u * v;
      const auto mix = [&](const std::vector<Vector3>& all_corners) -> Vector3 {
        return of_a * all_corners[a] + of_b * all_corners[b] + of_c * all_corners[c];
      };
      const Vector3 across = (mesh->vertices[b] - mesh->vertices[a]).cross(mesh->vertices[c] - mesh->vertices[a]);
      return MirrorPoint{mix(mesh->vertices), smooth ? mix(mesh->normals).normalized() : face_normal(*mesh, t),
                         across.norm() * u};
    };
    all.push_back(std::move(patch));
  }
  return all;
}

std::string Mesh::details(const LengthWords& /*say*/) const {
  return fmt::format(", {} triangles with {} normals", mesh->triangles.size(), smooth ? "smooth" : "flat");
}

}  // namespace dishwright
