// SPDX-License-Identifier: MIT
#include "result/face_maps.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

/// About 20 000 bins, square if possible, at least 40 across the short side; finer where the spot is small.
void divide(MapFace& face, double fine) {
  const double across = face.x_to - face.x_from, up = face.y_to - face.y_from;
  const double even = std::sqrt(across * up / 20000);
  const double wish = fine > 0 ? std::min(even, fine / 24) : even;
  face.columns = static_cast<int>(std::clamp(std::ceil(across / wish), 40.0, 512.0));
  face.rows = static_cast<int>(std::clamp(std::ceil(up / wish), 40.0, 512.0));
}

/// The layout of a face's map, not yet divided.
MapFace layout_of(const TargetFace& face) {
  MapFace map;
  map.name = face.name;
  if (face.flat()) {
    const bool disc = face.form == FaceForm::disc;
    const double half_x = disc ? face.radius : face.half_x, half_y = disc ? face.radius : face.half_y;
    map.across = "x", map.up = "y";
    map.x_from = -half_x, map.x_to = half_x, map.y_from = -half_y, map.y_to = half_y;
    map.round = disc;
    return map;
  }
  // All round a body.
  map.across = "around", map.up = face.form == FaceForm::lying ? "along" : "height";
  map.x_to = 2 * std::numbers::pi * face.radius;
  map.y_from = face.from, map.y_to = face.to;
  if (face.form == FaceForm::ball) map.y_from = -face.radius, map.y_to = face.radius;
  return map;
}

}  // namespace

std::vector<MapFace> target_faces(const TargetShape& shape, double fine) {
  std::vector<MapFace> maps;
  const TargetBody body = body_of(shape);
  for (const TargetFace& face : body.faces()) {
    if (!face.counts) continue;
    maps.push_back(layout_of(face));
    divide(maps.back(), fine);
  }
  return maps;
}

}  // namespace dishwright
