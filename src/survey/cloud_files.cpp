// SPDX-License-Identifier: MIT
// Points of PLY, OBJ and STL files: the corners alone.
#include <fmt/format.h>

#include <algorithm>

#include "base/error.h"
#include "base/text.h"
#include "shape/meshes/polygons.h"
#include "survey/read_survey.h"

namespace dishwright {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, std::string what, std::string why, std::string fix) {
  throw InputError(std::vector<Problem>{
      Problem{printable(file), line, line > 0 ? 1 : 0, 1, "", std::move(what), std::move(why), std::move(fix)}});
}

/// Facets of STL share corners: each counts once.
void drop_repeats(std::vector<Vector3>& points) {
  const auto before = [](const Vector3& a, const Vector3& b) {
    return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end());
  };
  std::sort(points.begin(), points.end(), before);
  const auto same = [](const Vector3& a, const Vector3& b) { return a == b; };
  points.erase(std::unique(points.begin(), points.end(), same), points.end());
}

}  // namespace

std::vector<Vector3> cloud_points(const std::string& content, const std::string& ending, const std::string& file,
                                  std::size_t& left_out) {
  const MeshFormat format = ending == ".ply" ? MeshFormat::ply : ending == ".obj" ? MeshFormat::obj : MeshFormat::stl;
  std::vector<Vector3> points;
  try {
    points = std::move(read_polygons(content, format, Wanted::points).corners);
  } catch (const BrokenFile& broken) {
    refuse(file, broken.line, broken.what(), broken.why, broken.fix.empty() ? "check the file, or export it again" : broken.fix);
  }
  left_out = std::erase_if(points, [](const Vector3& point) { return !point.allFinite(); });
  if (format == MeshFormat::stl) drop_repeats(points);
  if (points.empty()) refuse(file, 0, "the file holds no points", "", "check that it is the right file");
  return points;
}

}  // namespace dishwright
