// SPDX-License-Identifier: MIT
// Readers of STL, OBJ and PLY: all that a file says is taken, or the file is refused with the place; faces are cut without loss
// of area.
#include "shape/meshes/polygons.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <random>

#include "approx.h"
#include "base/error.h"
#include "shape/mesh_samples.h"
#include "shape/meshes/mesh_file.h"
#include "shape/meshes/polygon_cut.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

std::string refusal(const std::string& name, const std::string& content) {
  try {
    load_mesh(TemporaryFile(name, content).path, 1);
  } catch (const InputError& error) {
    return error.what();
  }
  return "read";
}

bool says(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// PLY text of the unit square's corners, five of them, with these lines of faces.
std::string ply_text(int faces, const std::string& lines, const std::string& format = "ascii 1.0") {
  return fmt::format(
             "ply\nformat {}\nelement vertex 5\nproperty float x\nproperty float y\nproperty float z\nelement face {}\n"
             "property list uchar int vertex_indices\nend_header\n0 0 0\n1 0 0\n1 1 0\n0 1 0\n0.5 0.5 0\n",
             format, faces) +
         lines;
}

std::string obj_text(const std::string& faces) { return "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nv 0.5 0.5 0\n" + faces; }

/// A face with these corners in the plane z = 0, in order.
Polygons one_face(const std::vector<Vector3>& corners) {
  Polygons all;
  all.corners = corners;
  for (std::uint32_t i = 0; i < corners.size(); ++i) all.indices.push_back(i);
  all.faces.push_back({static_cast<std::uint32_t>(corners.size()), 1});
  return all;
}

/// Gauss's area of a polygon in the plane z = 0.
double shoelace(const std::vector<Vector3>& c) {
  double sum = 0;
  for (std::size_t i = 0; i < c.size(); ++i) {
    const Vector3 &a = c[i], &b = c[(i + 1) % c.size()];
    sum += a.x() * b.y() - b.x() * a.y();
  }
  return sum / 2;
}

double area(const LooseTriangles& mesh, std::size_t t) {
  const auto& c = mesh.triangles[t];
  return (mesh.vertices[c[1]] - mesh.vertices[c[0]]).cross(mesh.vertices[c[2]] - mesh.vertices[c[0]]).z() / 2;
}

/// All triangles run the way of the face, none overlaps another (areas add up), and there are two fewer than corners.
void check_cut(const std::vector<Vector3>& corners) {
  const LooseTriangles cut = cut_into_triangles(one_face(corners));
  REQUIRE(cut.triangles.size() == corners.size() - 2);
  const double whole = shoelace(corners);
  double sum = 0;
  for (std::size_t t = 0; t < cut.triangles.size(); ++t) {
    CHECK(area(cut, t) * whole > -1e-12 * whole * whole);
    sum += area(cut, t);
  }
  CHECK(sum == testing::approx(whole).epsilon(1e-12));
}

}  // namespace

TEST_CASE("PLY: a face without its corners is told with its line, or its number in a binary file") {
  CHECK(says(refusal("a.ply", ply_text(2, "3 0 1 2\n0\n")), "line 16: a face has 0 corners"));
  CHECK(says(refusal("a.ply", ply_text(2, "0\n3 0 1 2\n")), "line 15: a face has 0 corners"));
  CHECK(says(refusal("a.ply", ply_text(2, "3 0 1 2\n1 0\n")), "line 16: a face has 1 corner\n"));
  CHECK(says(refusal("a.ply", ply_text(2, "2 0 1\n3 0 1 2\n")), "line 15: a face has 2 corners"));
  CHECK(says(refusal("a.ply", ply_text(2, "4 0 1 2\n3 0 2 3\n")), "line 15: this line has too few numbers"));
  CHECK(says(refusal("a.ply", ply_text(2, "3 0 1 2\n4 0 2 3\n")), "line 16: the file is cut off"));
  CHECK(says(refusal("a.ply", ply_text(2, "3 0 1 2 3\n3 0 2 3\n")), "line 15: \"3\" stands behind the last number"));
  CHECK(says(refusal("a.ply", ply_text(2, "3 0 1 5\n3 0 2 3\n")), "line 15: a face uses corner 5"));
  CHECK(says(refusal("a.ply", ply_text(2, "3 0 1 -1\n3 0 2 3\n")), "line 15: a face uses corner -1"));
  CHECK(says(refusal("a.ply", ply_text(1, "3 0 1 2\n3 0 2 3\n")), "line 16: there is more in the file than its head promises"));
  CHECK(says(refusal("a.ply", ply_text(3, "3 0 1 2\n3 0 2 3\n")), "the file is cut off"));
  CHECK(refusal("a.ply", ply_text(2, "3 0 1 2\n\n3 0 2 3\n\n")) == "read");
  CHECK(refusal("a.ply", ply_text(1, "4 0 1 2 3")) == "read");

  std::string binary = as_ply({{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}}, {{0, 1, 2}, {0, 2, 3}}}, true);
  const std::size_t second = binary.size() - 13;
  REQUIRE(binary[second] == 3);
  CHECK(refusal("a.ply", binary) == "read");
  CHECK(says(refusal("a.ply", binary + std::string(13, '\1')), "there is more in the file than its head promises"));
  binary[second] = 0;
  CHECK(says(refusal("a.ply", binary), "face 2 has 0 corners"));
  binary[second] = 4;
  CHECK(says(refusal("a.ply", binary), "the file is cut off"));
  binary[second] = 2;
  CHECK(says(refusal("a.ply", binary), "face 2 has 2 corners"));
}

TEST_CASE("PLY: a head that is not understood") {
  const std::string face = "4 0 1 2 3\n";
  CHECK(says(refusal("a.ply", ply_text(1, face, "foo 1.0")), "line 2: its head names the format \"foo\""));
  CHECK(says(refusal("a.ply", ply_text(1, face, "ascii 2.0")), "line 2: its head names the version \"2.0\""));
  std::string text = ply_text(1, face);
  text.erase(4, text.find("element") - 4);
  CHECK(says(refusal("a.ply", text), "its head names no format"));
  const auto with = [&](const std::string& after, const std::string& line) {
    std::string changed = ply_text(1, face);
    changed.insert(changed.find(after) + after.size(), line);
    return refusal("a.ply", changed);
  };
  CHECK(says(with("float z\n", "property float z\n"), "line 7: its head names z of vertex twice"));
  CHECK(says(with("float z\n", "element vertex 5\n"), "line 7: its head names vertex twice"));
  CHECK(says(with("float z\n", "propertie float w\n"), "line 7: its head has a line \"propertie\""));
  CHECK(says(with("vertex_indices\n", "property list uchar int vertex_index\n"), "list their corners twice"));
  CHECK(says(with("vertex_indices\n", "element tristrips 1\nproperty list int int vertex_indices\n"), "stands in strips"));
  CHECK(says(with("ascii 1.0\n", "format ascii 1.0\n"), "line 3: its head names the format twice"));
  CHECK(with("ascii 1.0\n", "comment made by hand\nobj_info no\n") == "read");
}

TEST_CASE("faces with more corners than anybody can mean") {
  std::string many = "f";
  std::string ply = "30000";
  for (int i = 0; i < 30'000; ++i) many += fmt::format(" {}", 1 + i % 5), ply += fmt::format(" {}", i % 5);
  CHECK(says(refusal("a.obj", obj_text(many + "\n")), "line 6: a face has 30000 corners"));
  std::string text = ply_text(1, ply + "\n");
  text.replace(text.find("list uchar"), 10, "list int");
  CHECK(says(refusal("a.ply", text), "line 15: a face has 30000 corners"));
}

TEST_CASE("STL that holds more or fewer triangles than it says") {
  const LooseTriangles dish = sampled_paraboloid(1, 2, 8);
  for (const int count : {1, 127, 129, 1000}) {
    std::string file = as_stl(dish);
    file[80] = static_cast<char>(count), file[81] = static_cast<char>(count / 256);
    CAPTURE(count);
    CHECK(says(refusal("a.stl", file), count < 128 ? "there is more in it" : "the file is cut off"));
    file.replace(0, 5, "solid");  // binary files begin so, too, at times
    CHECK(says(refusal("a.stl", file), count < 128 ? "there is more in it" : "the file is cut off"));
  }
  std::string file = as_stl(dish);
  file.replace(0, 5, "solid");
  CHECK(refusal("a.stl", file) == "read");
  CHECK(refusal("a.stl", as_stl(dish) + "\n") == "read");
  std::string text = as_stl_text(dish);
  text.insert(text.find("    endloop"), "      vertex 0 0 0\n");
  CHECK(says(refusal("a.stl", text), "line 7: \"vertex\" stands where \"endloop\" should"));
  text = as_stl_text(dish);
  text.insert(text.find("  facet", 20), "endsolid\n");
  CHECK(says(refusal("a.stl", text), "line 10: \"facet\" stands where \"solid\" should"));
  const std::string two = as_stl_text({{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}}, {{0, 1, 2}}}) +
                          as_stl_text({{{0, 0, 0}, {1, 1, 0}, {0, 1, 0}}, {{0, 1, 2}}});
  CHECK(load_mesh(TemporaryFile("a.stl", two).path, 1).mesh->triangles.size() == 2);
}

TEST_CASE("OBJ: indices and lines") {
  CHECK(refusal("a.obj", obj_text("f 1 2 3 4\n")) == "read");
  CHECK(refusal("a.obj", obj_text("f -5 -4 -3\nf 1/7/2 3//4 4/2 # a remark\n")) == "read");
  CHECK(says(refusal("a.obj", obj_text("f 1 2 6\n")), "line 6: a face uses corner 6"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2 -6\n")), "line 6: a face counts back to before the first corner"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2 0\n")), "line 6: \"0\" is not the number of a corner"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2 3 99999999999999999999\n")), "is not the number of a corner"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2\n")), "line 6: a face has 2 corners"));
  CHECK(says(refusal("a.obj", obj_text("f\n")), "line 6: a face has 0 corners"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2 3\nface 1 3 4\n")), "line 7: \"face\" is not a word of OBJ text"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2 3\rf 1 3 4\n")), "line 6: \"f\" is not the number of a corner"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2 3\nsurf 0 1 0 1 1 2 3 4\n")), "line 7: a curved patch stands here"));
  CHECK(says(refusal("a.obj", "v 0 0 0 v 1 0 0\n"), "line 1: \"v\" stands behind a corner"));
  CHECK(says(refusal("a.obj", obj_text("f 1 2 3 \\\n")), "line 6: the file is cut off"));
}

TEST_CASE("places keep all the digits of a double") {
  const std::string text = "v 0.123456789012345 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 3\n";
  CHECK(load_mesh(TemporaryFile("a.obj", text).path, 1).mesh->vertices[0].x() == 0.123456789012345);
}

TEST_CASE("faces of many corners are cut without loss of area") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> share(0, 1);
  // Stars with arms by chance: simple, most of them far from convex. Both ways round.
  for (int round = 0; round < 400; ++round) {
    const int n = 4 + round % 60;
    std::vector<Vector3> star;
    for (int i = 0; i < n; ++i) {
      const double angle = 2 * std::numbers::pi * (i + 0.8 * share(random)) / n * (round % 2 == 0 ? 1 : -1),
                   reach = 0.05 + share(random);
      star.emplace_back(3 + reach * std::cos(angle), reach * std::sin(angle), 0);
    }
    CAPTURE(round);
    check_cut(star);
  }
  // A comb, an arrow, a disk; a square with corners on its sides.
  std::vector<Vector3> comb;
  for (int i = 0; i < 100; ++i) comb.emplace_back(i, i % 2 == 0 ? 0.1 : 5, 0);
  comb.emplace_back(99, -1, 0), comb.emplace_back(0, -1, 0);
  std::reverse(comb.begin(), comb.end());
  check_cut(comb);
  check_cut({{0, 0, 0}, {2, -1, 0}, {0.5, 0, 0}, {2, 1, 0}});
  check_cut({{2, 1, 0}, {0, 0, 0}, {2, -1, 0}, {0.5, 0, 0}});
  std::vector<Vector3> disk;
  for (int i = 0; i < static_cast<int>(most_face_corners); ++i)
    disk.emplace_back(std::cos(2e-3 * std::numbers::pi * i), std::sin(2e-3 * std::numbers::pi * i), 0);
  check_cut(disk);
  check_cut({{0, 0, 0}, {1, 0, 0}, {2, 0, 0}, {2, 1, 0}, {2, 2, 0}, {1, 2, 0}, {0, 2, 0}, {0, 1, 0}});
}

// Two spirals of 500 corners each as one face: nearly every corner points inward, the worst there is for cutting ears.
TEST_CASE("spirals are cut, and so many of them that it would take too long are refused as such" * doctest::test_suite("slow")) {
  std::vector<Vector3> spiral;
  for (int i = 499; i >= 0; --i) spiral.emplace_back((1 + i / 50.0) * std::cos(0.1 * i), (1 + i / 50.0) * std::sin(0.1 * i), 0);
  for (int i = 0; i < 500; ++i)
    spiral.emplace_back((1.05 + i / 50.0) * std::cos(0.1 * i), (1.05 + i / 50.0) * std::sin(0.1 * i), 0);
  check_cut(spiral);
  Polygons many = one_face(spiral);
  for (int face = 1; face < 100; ++face) {
    for (std::uint32_t i = 0; i < spiral.size(); ++i) many.indices.push_back(i);
    many.faces.push_back({static_cast<std::uint32_t>(spiral.size()), static_cast<std::uint32_t>(face) + 1});
  }
  CHECK_THROWS_WITH_AS(cut_into_triangles(many), "there are too many faces with very many corners up to here", BrokenFile);
}

TEST_CASE("faces that cross themselves, and faces with a corner twice") {
  CHECK(says(refusal("a.obj", obj_text("f 1 3 2 4\n")), "line 6: a face crosses itself"));
  const std::string star = "v 0 1 0\nv 0.59 -0.81 0\nv -0.95 0.31 0\nv 0.95 0.31 0\nv -0.59 -0.81 0\nf 1 2 3 4 5\n";
  CHECK(says(refusal("a.obj", star), "line 6: a face crosses itself"));
  const MeshFile twice = load_mesh(TemporaryFile("a.obj", obj_text("f 1 2 3 3\nf 1 3 4 4 1\n")).path, 1);
  CHECK(twice.mesh->triangles.size() == 2);
  CHECK(twice.notes.at(0) == "3 triangles without area left out");
  CHECK(says(refusal("a.obj", obj_text("f 1 1 1 1\n")), "none of its 2 triangles has an area"));
}

// Words and bytes of good files changed, doubled and taken out: a mesh without NaN comes out, or words.
TEST_CASE("spoilt mesh files") {
  std::mt19937 random(23);
  const LooseTriangles dish = sampled_paraboloid(1, 2, 3);
  const std::pair<const char*, std::string> files[] = {
      {"d.stl", as_stl(dish)},        {"d.stl", as_stl_text(dish)},  {"d.obj", as_obj(dish) + "f 1 2 3 4 5\n"},
      {"d.ply", as_ply(dish, false)}, {"d.ply", as_ply(dish, true)}, {"d.ply", as_ply(dish, true, true)},
  };
  const std::string pieces[] = {"-1", "0", "1e308", "nan", "\n", " ", "4", "99999999999", "f 1 2", "inf", "\r", "\\"};
  int read = 0, refused = 0;
  for (int round = 0; round < 1200; ++round) {
    const auto& [name, content] = files[round % 6];
    std::string spoilt = content;
    for (int change = 0; change <= round % 3; ++change) {
      const std::size_t at = random() % spoilt.size();
      switch (random() % 4) {
        case 0: spoilt.insert(at, pieces[random() % std::size(pieces)]); break;
        case 1: spoilt.erase(at, 1 + random() % 6); break;
        case 2: spoilt[at] = static_cast<char>(random()); break;
        default: spoilt.insert(at, spoilt.substr(at, random() % 40));
      }
    }
    try {
      const MeshFile file = load_mesh(TemporaryFile(name, spoilt).path, 1);
      ++read;
      for (const Vector3& v : file.mesh->vertices) CHECK(v.allFinite());
      for (const Vector3& n : file.mesh->normals) CHECK(std::abs(n.norm() - 1) < 1e-9);
    } catch (const InputError&) {
      ++refused;
    }
  }
  CHECK(read > 50);
  CHECK(refused > 400);
}
