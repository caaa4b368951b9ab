// SPDX-License-Identifier: MIT
#include "shape/mesh_samples.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstring>
#include <fstream>

namespace dishwright::testing {

namespace {

template <class T>
void put(std::string& out, T value, bool big_endian = false) {
  char bytes[sizeof(T)];
  std::memcpy(bytes, &value, sizeof(T));
  if (big_endian) std::reverse(bytes, bytes + sizeof(T));
  out.append(bytes, sizeof(T));
}

std::string words(const Vector3& v) { return fmt::format("{:.9g} {:.9g} {:.9g}", v.x(), v.y(), v.z()); }

}  // namespace

LooseTriangles sampled_paraboloid(double focal_length, double width, int n) {
  LooseTriangles mesh;
  for (int j = 0; j <= n; ++j) {
    for (int i = 0; i <= n; ++i) {
      const double x = width * (1.0 * i / n - 0.5), y = width * (1.0 * j / n - 0.5);
      mesh.vertices.emplace_back(x, y, (x * x + y * y) / (4 * focal_length));
    }
  }
  const auto corner = [n](int i, int j) { return static_cast<std::uint32_t>(j * (n + 1) + i); };
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      mesh.triangles.push_back({corner(i, j), corner(i + 1, j), corner(i + 1, j + 1)});
      mesh.triangles.push_back({corner(i, j), corner(i + 1, j + 1), corner(i, j + 1)});
    }
  }
  return mesh;
}

std::string as_stl(const LooseTriangles& mesh) {
  std::string out(80, ' ');
  put(out, static_cast<std::uint32_t>(mesh.triangles.size()));
  for (const auto& triangle : mesh.triangles) {
    for (int i = 0; i < 3; ++i) put(out, 0.0F);
    for (const std::uint32_t corner : triangle) {
      for (int i = 0; i < 3; ++i) put(out, static_cast<float>(mesh.vertices[corner][i]));
    }
    put(out, std::uint16_t{0});
  }
  return out;
}

std::string as_stl_text(const LooseTriangles& mesh) {
  std::string out = "solid Shallow Dish\n";
  for (const auto& t : mesh.triangles) {
    out += "  facet normal 0 0 0\n    outer loop\n";
    for (const std::uint32_t corner : t) out += "      vertex " + words(mesh.vertices[corner]) + "\n";
    out += "    endloop\n  endfacet\n";
  }
  return out + "endsolid Shallow Dish\n";
}

std::string as_obj(const LooseTriangles& mesh) {
  std::string out = "# a dish\nmtllib /etc/hostname\no dish\n";
  for (const Vector3& v : mesh.vertices) out += "v " + words(v) + "\n";
  out += "vn 0 0 1\nusemtl shiny\n";
  for (const auto& t : mesh.triangles) out += fmt::format("f {}//1 {}//1 {}//1\n", t[0] + 1, t[1] + 1, t[2] + 1);
  return out;
}

std::string as_ply(const LooseTriangles& mesh, bool binary, bool big_endian) {
  const std::string format = !binary ? "ascii" : big_endian ? "binary_big_endian" : "binary_little_endian";
  std::string out = fmt::format(
      "ply\nformat {} 1.0\ncomment a dish\nelement vertex {}\nproperty float x\nproperty float y\nproperty float z\nproperty "
      "uchar "
      "red\nelement face {}\nproperty list uchar int vertex_indices\nend_header\n",
      format, mesh.vertices.size(), mesh.triangles.size());
  for (const Vector3& v : mesh.vertices) {
    if (!binary) out += words(v) + " 200\n";
    for (int i = 0; binary && i < 3; ++i) put(out, static_cast<float>(v[i]), big_endian);
    if (binary) put(out, std::uint8_t{200});
  }
  for (const auto& t : mesh.triangles) {
    if (!binary) out += fmt::format("3 {} {} {}\n", t[0], t[1], t[2]);
    if (binary) put(out, std::uint8_t{3});
    for (int i = 0; binary && i < 3; ++i) put(out, static_cast<std::int32_t>(t[static_cast<std::size_t>(i)]), big_endian);
  }
  return out;
}

TemporaryFile::TemporaryFile(const std::string& name, const std::string& content) {
  static int count = 0;
  const auto folder = std::filesystem::temp_directory_path() / fmt::format("dishwright-shape-{}-{}", ::getpid(), ++count);
  std::filesystem::create_directories(folder);
  path = folder / name;
  std::ofstream(path, std::ios::binary) << content;
}

TemporaryFile::~TemporaryFile() {
  std::error_code ignored;
  std::filesystem::remove_all(path.parent_path(), ignored);
}

}  // namespace dishwright::testing
