// SPDX-License-Identifier: MIT
#include "scene/mirror_samples.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "scene/mirror_patches.h"

namespace dishwright {

namespace {

constexpr std::size_t most = 1000;

std::vector<MirrorPlace> of_mesh(const TriangleMesh& mesh, bool rim) {
  std::vector<MirrorPlace> samples;
  const std::size_t step = mesh.triangles.size() / most + 1;
  for (std::size_t t = 0; t < mesh.triangles.size(); t += step) {
    const auto& c = mesh.triangles[t];
    const Vector3 &p0 = mesh.vertices[c[0]], &p1 = mesh.vertices[c[1]], &p2 = mesh.vertices[c[2]], normal = face_normal(mesh, t);
    samples.push_back({(p0 + p1 + p2) / 3, normal});
    if (!rim) continue;
    for (const Vector3& corner : {p0, p1, p2}) samples.push_back({corner, normal});
  }
  return samples;
}

std::vector<MirrorPlace> of_tiles(const Facets& facets, bool rim) {
  std::vector<MirrorPlace> samples;
  const std::vector<Tile> tiles = facet_layout(facets);
  const std::size_t step = tiles.size() / most + 1;
  for (std::size_t k = 0; k < tiles.size(); k += step) {
    const Vector3 normal = tiles[k].turn.col(2);
    samples.push_back({tiles[k].centre, normal});
    for (const double side : {-0.5, 0.5}) {
      if (!rim) break;
      samples.push_back({tiles[k].centre + side * facets.tile * tiles[k].turn.col(0), normal});
      samples.push_back({tiles[k].centre + side * facets.tile * tiles[k].turn.col(1), normal});
    }
  }
  return samples;
}

std::vector<MirrorPlace> of_patches(const ReflectorShape& shape, bool rim) {
  std::vector<MirrorPlace> samples;
  const std::vector<MirrorPatch> patches = shape_patches(shape);
  const double each = static_cast<double>(most) / static_cast<double>(patches.size());
  const int n = std::clamp(static_cast<int>(std::sqrt(each)), 2, 24);
  const std::size_t step = patches.size() * static_cast<std::size_t>(n * n) / (4 * most) + 1;
  for (std::size_t k = 0; k < patches.size(); k += step) {
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < n; ++j) {
        const auto share = [&](int place) { return rim ? static_cast<double>(place) / (n - 1) : (place + 0.5) / n; };
        const MirrorPoint point = patches[k].at(share(i), share(j));
        if (point.place.allFinite() && point.normal.allFinite()) samples.push_back({point.place, point.normal});
      }
    }
  }
  return samples;
}

}  // namespace

std::vector<MirrorPlace> mirror_samples(const Reflector& reflector, bool rim) {
  const auto* mesh = std::get_if<Mesh>(&reflector.shape);
  const auto* facets = std::get_if<Facets>(&reflector.shape);
  std::vector<MirrorPlace> samples = mesh != nullptr     ? of_mesh(*mesh->mesh, rim)
                                     : facets != nullptr ? of_tiles(*facets, rim)
                                                         : of_patches(reflector.shape, rim);
  for (MirrorPlace& one : samples) {
    one.place = reflector.pose.turn * one.place + reflector.pose.at;
    one.normal = reflector.pose.turn * one.normal;
  }
  return samples;
}

}  // namespace dishwright
