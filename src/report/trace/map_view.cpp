// SPDX-License-Identifier: MIT
#include "report/trace/map_view.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <utility>
#include <vector>

namespace dishwright {

namespace {

constexpr double small_share = 0.3;  // spots below this share of the face are shown closer
constexpr double long_aspect = 6;    // faces longer than this are cut

std::size_t bin_index(const MapFace& face, int column, int row) {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(face.columns) + static_cast<std::size_t>(column);
}
double bin_x(const MapFace& face, int column) { return face.x_from + (column + 0.5) * (face.x_to - face.x_from) / face.columns; }
double bin_y(const MapFace& face, int row) { return face.y_from + (row + 0.5) * (face.y_to - face.y_from) / face.rows; }

/// [from, to] of the given length about the middle, moved to lie within the limits.
std::pair<double, double> piece(double middle, double length, double from, double to) {
  const double start = std::clamp(middle - length / 2, from, std::max(from, to - length));
  return {start, std::min(to, start + length)};
}

MapWindow window_about(const MapFace& face, const std::array<double, 2>& centre, double width, double height) {
  MapWindow out;
  std::tie(out.x_from, out.x_to) = piece(centre[0], width, face.x_from, face.x_to);
  std::tie(out.y_from, out.y_to) = piece(centre[1], height, face.y_from, face.y_to);
  return out;
}

}  // namespace

std::array<double, 2> light_centre(const MapFace& face) {
  double sum = 0, x = 0, y = 0;
  for (int row = 0; row < face.rows; ++row) {
    for (int column = 0; column < face.columns; ++column) {
      const double value = face.irradiance[bin_index(face, column, row)];
      sum += value, x += value * bin_x(face, column), y += value * bin_y(face, row);
    }
  }
  if (sum <= 0) return {(face.x_from + face.x_to) / 2, (face.y_from + face.y_to) / 2};
  return {x / sum, y / sum};
}

MapWindow whole_window(const MapFace& face) { return {face.x_from, face.x_to, face.y_from, face.y_to}; }

double face_share(const TargetFigures& figures, const MapFace& face) {
  const auto light = [](const MapFace& f) {
    double sum = 0;
    for (const double value : f.irradiance) sum += value;
    return sum * (f.x_to - f.x_from) * (f.y_to - f.y_from) / (f.columns * f.rows);
  };
  double all = 0;
  for (const MapFace& other : figures.map) all += light(other);
  return all > 0 ? light(face) / all : 0;
}

double share_width(const MapFace& face, double share) {
  const std::array<double, 2> centre = light_centre(face);
  std::vector<std::pair<double, double>> bins;  // distance, irradiance
  double sum = 0;
  for (int row = 0; row < face.rows; ++row) {
    for (int column = 0; column < face.columns; ++column) {
      const double value = face.irradiance[bin_index(face, column, row)];
      if (value <= 0) continue;
      bins.emplace_back(std::hypot(bin_x(face, column) - centre[0], bin_y(face, row) - centre[1]), value);
      sum += value;
    }
  }
  std::sort(bins.begin(), bins.end());
  double inside = 0;
  for (const auto& [distance, value] : bins) {
    inside += value;
    if (inside >= share * sum) return 2 * distance;
  }
  return 0;
}

MapWindow map_view(const TargetFigures& figures, const MapFace& face) {
  const MapWindow whole = whole_window(face);
  const double smaller = std::min(whole.width(), whole.height()), larger = std::max(whole.width(), whole.height());
  const bool flat = face.name == "front" || face.name == "base";
  double spot = 0;
  std::array<double, 2> centre = light_centre(face);
  if (figures.spot_width_90 && figures.plane_centroid) {
    spot = figures.spot_width_90->value;
    centre = *figures.plane_centroid;
  } else if (flat) {
    spot = share_width(face, 0.9);
  }
  const bool spot_on_face =
      centre[0] > whole.x_from && centre[0] < whole.x_to && centre[1] > whole.y_from && centre[1] < whole.y_to;
  if (flat && spot_on_face && spot > 0 && spot < small_share * smaller) {
    // Twice the spot, but never so close that single bins fill the view.
    const double bin = std::max(whole.width() / face.columns, whole.height() / face.rows);
    const double side = std::clamp(2 * spot, std::min(16 * bin, smaller), smaller);
    return window_about(face, centre, side, side);
  }
  if (larger <= long_aspect * smaller) return whole;
  const double length = 1.25 * smaller;
  return window_about(face, light_centre(face), std::min(whole.width(), length), std::min(whole.height(), length));
}

}  // namespace dishwright
