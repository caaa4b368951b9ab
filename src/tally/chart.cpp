// SPDX-License-Identifier: MIT
#include "tally/chart.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

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

/// Arc length from +x, 0 … 2πR.
inline double arc(double radius, double across, double along) {
  const double angle = std::atan2(across, along);
  return radius * (angle < 0 ? angle + 2 * std::numbers::pi : angle);
}

}  // namespace

void Chart::bins(const WeightedPoints& points, int* bin) const {
  const double per_x = face.columns / (face.x_to - face.x_from), per_y = face.rows / (face.y_to - face.y_from);
  const double x_from = face.x_from, y_from = face.y_from, last_column = face.columns - 1, last_row = face.rows - 1;
  const int columns = face.columns;
  const auto bin_of = [=](double x, double y) {
    const double column = std::clamp((x - x_from) * per_x, 0.0, last_column),
                 row = std::clamp((y - y_from) * per_y, 0.0, last_row);
    return static_cast<int>(row) * columns + static_cast<int>(column);
  };
  if (form == FaceForm::lying) {  // counter-clockwise seen from the +y end
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(arc(radius, -points.z[i], points.x[i]), points.y[i]);
  } else if (form == FaceForm::ball || form == FaceForm::upright) {
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(arc(radius, points.y[i], points.x[i]), points.z[i]);
  } else {
#pragma omp simd
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(points.x[i], points.y[i]);
  }
}

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

std::vector<Chart> make_charts(const Scene& scene, const PieceList& list, const std::vector<double>& fine) {
  std::vector<Chart> charts;
  for (std::size_t k = 0; k < list.pieces.size(); ++k) {
    const Piece& piece = list.pieces[k];
    if (!piece.counts()) continue;
    const std::size_t target = static_cast<std::size_t>(piece.owner);
    Chart chart;
    chart.piece = static_cast<int>(k);
    chart.target = piece.owner;
    chart.form = piece.target_face->form;
    chart.radius = piece.target_face->radius;
    chart.face = target_faces(scene.targets[target].shape, fine[target])[static_cast<std::size_t>(piece.face)];
    charts.push_back(std::move(chart));
  }
  return charts;
}

}  // namespace dishwright
