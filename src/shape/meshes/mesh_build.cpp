// SPDX-License-Identifier: MIT
#include "shape/meshes/mesh_build.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numeric>
#include <tuple>

#include "base/error.h"
#include "base/fingerprint.h"
#include "shape/meshes/mesh_normals.h"
#include "shape/meshes/polygons.h"

namespace dishwright {

namespace {

using Triangle = std::array<std::uint32_t, 3>;
constexpr double flattest = 1e-9;  // height over longest side of a triangle that is kept

std::string place_words(const Vector3& p) { return fmt::format("({:.6g}, {:.6g}, {:.6g})", p.x(), p.y(), p.z()); }

void refuse_strange_numbers(const std::vector<Vector3>& vertices) {
  const auto strange = std::find_if(vertices.begin(), vertices.end(), [](const Vector3& v) {
    return !(v.cwiseAbs().maxCoeff() < farthest_number) || !v.allFinite();
  });
  if (strange == vertices.end()) return;
  throw InputError(fmt::format("corner {} of the mesh is {}", strange - vertices.begin() + 1, place_words(*strange)),
                   "a place in space is three ordinary numbers; NaN and infinity are none", "export the mesh again");
}

/// Numbers the corners so that equal places have equal numbers; −0 and 0 are equal.
void join_corners(LooseTriangles& loose) {
  std::vector<Vector3>& v = loose.vertices;
  for (Vector3& place : v) place.array() += 0.0;
  std::vector<std::uint32_t> order(v.size());
  std::iota(order.begin(), order.end(), 0U);
  const auto before = [&](std::uint32_t a, std::uint32_t b) {
    return std::lexicographical_compare(v[a].data(), v[a].data() + 3, v[b].data(), v[b].data() + 3);
  };
  std::sort(order.begin(), order.end(),
            [&](std::uint32_t a, std::uint32_t b) { return before(a, b) || (!before(b, a) && a < b); });
  // The first of equal places stands for all; the numbers follow the order of the file.
  std::vector<std::uint32_t> first(v.size()), renumbered(v.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    const bool same = i > 0 && !before(order[i - 1], order[i]);
    first[order[i]] = same ? first[order[i - 1]] : order[i];
  }
  std::vector<Vector3> kept;
  for (std::uint32_t i = 0; i < v.size(); ++i) {
    if (first[i] != i) continue;
    renumbered[i] = static_cast<std::uint32_t>(kept.size());
    kept.push_back(v[i]);
  }
  for (Triangle& triangle : loose.triangles) {
    for (std::uint32_t& corner : triangle) corner = renumbered[first[corner]];
  }
  v = std::move(kept);
}

/// Twice the area vector.
Vector3 area_vector(const std::vector<Vector3>& v, const Triangle& t) { return (v[t[1]] - v[t[0]]).cross(v[t[2]] - v[t[0]]); }

bool has_area(const std::vector<Vector3>& v, const Triangle& t) {
  const double longest =
      std::max({(v[t[1]] - v[t[0]]).squaredNorm(), (v[t[2]] - v[t[1]]).squaredNorm(), (v[t[0]] - v[t[2]]).squaredNorm()});
  return area_vector(v, t).norm() > flattest * longest;
}

/// One side of a triangle: its ends in rising order, and whether the triangle runs along it from low to high.
struct Side {
  std::uint32_t low = 0, high = 0, triangle = 0;
  bool rising = true;
  bool same_edge(const Side& o) const { return low == o.low && high == o.high; }
};

std::vector<Side> sorted_sides(const std::vector<Triangle>& triangles) {
  std::vector<Side> sides;
  sides.reserve(3 * triangles.size());
  for (std::uint32_t t = 0; t < triangles.size(); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = triangles[t][k], b = triangles[t][(k + 1) % 3];
      sides.push_back({std::min(a, b), std::max(a, b), t, a < b});
    }
  }
  std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
    return std::tie(a.low, a.high, a.triangle) < std::tie(b.low, b.high, b.triangle);
  });
  return sides;
}

/// Neighbour across an edge; `against` where the two are wound in opposite senses.
struct Neighbour {
  std::uint32_t triangle = 0;
  bool against = false;
};
constexpr std::uint32_t nobody = 0xFFFFFFFFU;

struct Neighbours {
  std::vector<std::array<Neighbour, 3>> of;  ///< up to three a triangle
  std::size_t open_edges = 0;
};

Neighbours find_neighbours(const LooseTriangles& loose) {
  Neighbours all;
  all.of.assign(loose.triangles.size(), {Neighbour{nobody}, Neighbour{nobody}, Neighbour{nobody}});
  const auto link = [&](std::uint32_t from, std::uint32_t to, bool against) {
    for (Neighbour& place : all.of[from]) {
      if (place.triangle != nobody) continue;
      place = {to, against};
      return;
    }
  };
  const std::vector<Side> sides = sorted_sides(loose.triangles);
  for (std::size_t i = 0; i < sides.size();) {
    std::size_t end = i + 1;
    while (end < sides.size() && sides[end].same_edge(sides[i])) ++end;
    if (end - i > 2) {
      throw InputError(fmt::format("{} triangles meet at the edge from {} to {}", end - i,
                                   place_words(loose.vertices[sides[i].low]), place_words(loose.vertices[sides[i].high])),
                       "a mirror is one sheet: an edge has one triangle, or two (places in the file's own unit)",
                       "take out doubled faces and inner walls, then export the mesh again");
    }
    if (end - i == 1) ++all.open_edges;
    if (end - i == 2) {
      const bool against = sides[i].rising == sides[i + 1].rising;
      link(sides[i].triangle, sides[i + 1].triangle, against);
      link(sides[i + 1].triangle, sides[i].triangle, against);
    }
    i = end;
  }
  return all;
}

/// Turns triangles over until neighbours agree; gives the number turned. `parts` counts the connected parts.
std::size_t agree_on_winding(LooseTriangles& loose, const Neighbours& neighbours, std::size_t& parts) {
  enum : std::uint8_t { unseen, as_is, turned };
  std::vector<std::uint8_t> state(loose.triangles.size(), unseen);
  std::size_t turned_over = 0;
  std::vector<std::uint32_t> part;
  for (std::uint32_t seed = 0; seed < loose.triangles.size(); ++seed) {
    if (state[seed] != unseen) continue;
    ++parts;
    part.assign(1, seed);
    state[seed] = as_is;
    double area_as_is = 0, area_turned = 0;
    for (std::size_t k = 0; k < part.size(); ++k) {
      const std::uint32_t here = part[k];
      (state[here] == as_is ? area_as_is : area_turned) += area_vector(loose.vertices, loose.triangles[here]).norm();
      for (const Neighbour& next : neighbours.of[here]) {
        if (next.triangle == nobody) continue;
        const std::uint8_t wanted = (state[here] == turned) != next.against ? turned : as_is;
        if (state[next.triangle] == unseen) {
          state[next.triangle] = wanted;
          part.push_back(next.triangle);
        } else if (state[next.triangle] != wanted) {
          throw InputError("the mesh is a one-sided sheet, like a Möbius strip", "a mirror has a bright side and a back",
                           "cut the sheet, or export the mesh again");
        }
      }
    }
    const std::uint8_t minority = area_turned <= area_as_is ? turned : as_is;
    for (const std::uint32_t t : part) {
      if (state[t] != minority) continue;
      std::swap(loose.triangles[t][1], loose.triangles[t][2]);
      ++turned_over;
    }
  }
  return turned_over;
}

/// Over places and corners.
std::uint64_t fingerprint_of(const TriangleMesh& mesh) {
  Fingerprint print;
  for (const Vector3& v : mesh.vertices) {
    for (int k = 0; k < 3; ++k) print.add(v[k]);
  }
  for (const Triangle& t : mesh.triangles) {
    for (const std::uint32_t corner : t) print.add(corner);
  }
  return print.value();
}

void drop_unused_corners(LooseTriangles& loose) {
  std::vector<std::uint32_t> number(loose.vertices.size(), nobody);
  std::vector<Vector3> used;
  for (Triangle& t : loose.triangles) {
    for (std::uint32_t& corner : t) {
      if (number[corner] == nobody) {
        number[corner] = static_cast<std::uint32_t>(used.size());
        used.push_back(loose.vertices[corner]);
      }
      corner = number[corner];
    }
  }
  loose.vertices = std::move(used);
}

std::string counted(std::size_t count, const char* what) { return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s"); }

}  // namespace

BuiltMesh build_mesh(LooseTriangles loose, double metres_per_unit) {
  BuiltMesh built;
  refuse_strange_numbers(loose.vertices);
  if (loose.triangles.empty())
    throw InputError("there are no triangles in it", "a mirror needs a surface", "export the surface as triangles");
  join_corners(loose);
  const std::size_t all = loose.triangles.size();
  std::erase_if(loose.triangles, [&](const Triangle& t) { return !has_area(loose.vertices, t); });
  if (loose.triangles.empty()) {
    throw InputError(fmt::format("none of its {} has an area", counted(all, "triangle")),
                     "all their corners lie on lines or in one place", "export the surface again");
  }
  if (loose.triangles.size() < all)
    built.notes.push_back(fmt::format("{} without area left out", counted(all - loose.triangles.size(), "triangle")));
  drop_unused_corners(loose);
  const Neighbours neighbours = find_neighbours(loose);
  std::size_t parts = 0;
  const std::size_t turned_over = agree_on_winding(loose, neighbours, parts);
  if (turned_over > 0)
    built.notes.push_back(fmt::format("{} turned over, to face the way of their neighbours", counted(turned_over, "triangle")));
  if (neighbours.open_edges == 0) built.notes.push_back("the surface is closed: its outside is the mirror");

  TriangleMesh& mesh = built.mesh;
  mesh.vertices = std::move(loose.vertices);
  for (Vector3& v : mesh.vertices) v *= metres_per_unit;
  mesh.triangles = std::move(loose.triangles);
  mesh.normals = corner_normals(mesh.vertices, mesh.triangles);
  mesh.low = mesh.high = mesh.vertices.front();
  for (const Vector3& v : mesh.vertices) mesh.low = mesh.low.cwiseMin(v), mesh.high = mesh.high.cwiseMax(v);
  mesh.fingerprint = fingerprint_of(mesh);
  Vector3 sum = Vector3::Zero();
  for (const Triangle& t : mesh.triangles) sum += area_vector(mesh.vertices, t);
  if (neighbours.open_edges > 0 && sum.z() < 0) built.notes.push_back("the bright side of most of it faces down, toward -z");
  return built;
}

Vector3 face_normal(const TriangleMesh& mesh, std::size_t triangle) {
  return area_vector(mesh.vertices, mesh.triangles[triangle]).normalized();
}

}  // namespace dishwright
