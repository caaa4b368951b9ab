// SPDX-License-Identifier: MIT
#include "tally/chart.h"

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

Chart chart_of(const Scene& scene, const Piece& piece, int index) {
  Chart chart;
  chart.piece = index;
  chart.target = piece.owner;
  chart.kind = piece.kind;
  const double half_x = (piece.box_high.x() - piece.box_low.x()) / 2, half_y = (piece.box_high.y() - piece.box_low.y()) / 2;
  chart.radius = half_x;
  MapFace& face = chart.face;
  face.name = "front";
  face.across = "x", face.up = "y";
  face.x_from = -half_x, face.x_to = half_x, face.y_from = -half_y, face.y_to = half_y;
  face.round = piece.kind == PieceKind::disk || piece.kind == PieceKind::pot_base;
  if (piece.kind == PieceKind::pot_base) face.name = "base";
  const double around = 2 * std::numbers::pi * chart.radius;
  if (piece.kind == PieceKind::tube) {
    face.name = "all round";
    face.across = "around", face.up = "along";
    face.x_from = 0, face.x_to = around;
  } else if (piece.kind == PieceKind::pot_side) {
    face.name = "side";
    face.across = "around", face.up = "height";
    face.x_from = 0, face.x_to = around;
    face.y_from = 0, face.y_to = std::get<PotTarget>(scene.targets[static_cast<std::size_t>(piece.owner)].shape).height;
  } else if (piece.kind == PieceKind::ball) {
    face.name = "all round";
    face.across = "around", face.up = "height";
    face.x_from = 0, face.x_to = around;
    face.y_from = -chart.radius, face.y_to = chart.radius;
  }
  return chart;
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
  if (kind == PieceKind::tube) {  // counter-clockwise seen from the +y end
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(arc(radius, -points.z[i], points.x[i]), points.y[i]);
  } else if (kind == PieceKind::ball || kind == PieceKind::pot_side) {
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(arc(radius, points.y[i], points.x[i]), points.z[i]);
  } else {
#pragma omp simd
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(points.x[i], points.y[i]);
  }
}

MapFace plane_face(const TargetShape& shape, double fine) {
  const auto* rectangle = std::get_if<RectangleTarget>(&shape);
  const double half_x = std::visit([](const auto& s) { return s.width / 2; }, shape);
  const double half_y = rectangle != nullptr ? rectangle->length / 2 : half_x;
  MapFace face;
  face.name = "front", face.across = "x", face.up = "y";
  face.x_from = -half_x, face.x_to = half_x, face.y_from = -half_y, face.y_to = half_y;
  face.round = rectangle == nullptr;
  divide(face, fine);
  return face;
}

std::vector<Chart> make_charts(const Scene& scene, const PieceList& list, const std::vector<double>& fine) {
  std::vector<Chart> charts;
  for (std::size_t k = 0; k < list.pieces.size(); ++k) {
    const Piece& piece = list.pieces[k];
    if (piece.kind == PieceKind::mirror || piece.kind == PieceKind::pot_lid) continue;
    charts.push_back(chart_of(scene, piece, static_cast<int>(k)));
    divide(charts.back().face, fine[static_cast<std::size_t>(piece.owner)]);
  }
  return charts;
}

}  // namespace dishwright
