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

MapFace flat_face(double width, double length, bool round) {
  MapFace face;
  face.name = "front", face.across = "x", face.up = "y";
  face.x_from = -width / 2, face.x_to = width / 2, face.y_from = -length / 2, face.y_to = length / 2;
  face.round = round;
  return face;
}

/// All round a body.
MapFace round_face(double width, double y_from, double y_to) {
  MapFace face;
  face.name = "all round", face.across = "around", face.up = "height";
  face.x_to = 2 * std::numbers::pi * (width / 2);
  face.y_from = y_from, face.y_to = y_to;
  return face;
}

std::vector<MapFace> faces_of(const DiskTarget& s) { return {flat_face(s.width, s.width, true)}; }
std::vector<MapFace> faces_of(const RectangleTarget& s) { return {flat_face(s.width, s.length, false)}; }
std::vector<MapFace> faces_of(const BallTarget& s) { return {round_face(s.width, -s.width / 2, s.width / 2)}; }
std::vector<MapFace> faces_of(const TubeTarget& s) {
  std::vector<MapFace> faces = {round_face(s.width, -s.length / 2, s.length / 2)};
  faces[0].up = "along";
  return faces;
}
std::vector<MapFace> faces_of(const PotTarget& s) {
  std::vector<MapFace> faces = {round_face(s.width, 0, s.height), flat_face(s.width, s.width, true)};
  faces[0].name = "side", faces[1].name = "base";
  return faces;
}
std::vector<MapFace> faces_of(const PointTarget&) { return {}; }

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
  if (kind == PieceKind::tube) {  // counter-clockwise seen from the +y end
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(arc(radius, -points.z[i], points.x[i]), points.y[i]);
  } else if (kind == PieceKind::ball || kind == PieceKind::pot_side) {
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(arc(radius, points.y[i], points.x[i]), points.z[i]);
  } else {
#pragma omp simd
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(points.x[i], points.y[i]);
  }
}

std::vector<MapFace> target_faces(const TargetShape& shape, double fine) {
  std::vector<MapFace> faces = std::visit([](const auto& s) { return faces_of(s); }, shape);
  for (MapFace& face : faces) divide(face, fine);
  return faces;
}

std::vector<Chart> make_charts(const Scene& scene, const PieceList& list, const std::vector<double>& fine) {
  std::vector<Chart> charts;
  for (std::size_t k = 0; k < list.pieces.size(); ++k) {
    const Piece& piece = list.pieces[k];
    if (piece.kind == PieceKind::mirror || piece.kind == PieceKind::pot_lid) continue;
    const std::size_t target = static_cast<std::size_t>(piece.owner);
    Chart chart;
    chart.piece = static_cast<int>(k);
    chart.target = piece.owner;
    chart.kind = piece.kind;
    chart.radius = (piece.box_high.x() - piece.box_low.x()) / 2;
    chart.face = target_faces(scene.targets[target].shape, fine[target])[static_cast<std::size_t>(piece.face)];
    charts.push_back(std::move(chart));
  }
  return charts;
}

}  // namespace dishwright
