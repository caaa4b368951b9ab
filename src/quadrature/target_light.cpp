// SPDX-License-Identifier: MIT
#include "quadrature/target_light.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

/// Middle of a cell, own frame.
Vector3 cell_place(const MappedFace& face, int cell) {
  const MapFace& layout = face.layout;
  const int column = cell % layout.columns, row = cell / layout.columns;
  const double x = layout.x_from + (column + 0.5) * (layout.x_to - layout.x_from) / layout.columns;
  const double y = layout.y_from + (row + 0.5) * (layout.y_to - layout.y_from) / layout.rows;
  return face.flat ? Vector3(x, y, 0) : face.shape.place(x, y);
}

/// Light of a cell, at its middle.
struct CellLight {
  Vector3 place;  ///< own frame
  double power = 0;
};

/// All cells that have light.
std::vector<CellLight> lit_cells(const std::vector<MappedFace>& faces, const std::vector<FaceLight>& light) {
  std::vector<CellLight> out;
  for (std::size_t f = 0; f < faces.size(); ++f) {
    const MapFace& map = faces[f].layout;
    const double area = faces[f].cell_area(), cell_x = faces[f].width() / map.columns, cell_y = faces[f].height() / map.rows;
    const double* irradiance = light[f].irradiance.data();
    out.reserve(out.size() + light[f].irradiance.size());
    for (int row = 0; row < map.rows; ++row) {
      const double y = map.y_from + (row + 0.5) * cell_y;
      for (int column = 0; column < map.columns; ++column) {
        const double here = *irradiance++;
        if (!(here > 0)) continue;
        const double x = map.x_from + (column + 0.5) * cell_x;
        out.push_back({faces[f].flat ? Vector3(x, y, 0) : faces[f].shape.place(x, y), here * area});
      }
    }
  }
  return out;
}

/// Distance within which half of the power lies, from counts by even steps; even in area inside a step.
double median_of(const std::vector<double>& power, double step) {
  double total = 0, sum = 0;
  for (const double one : power) total += one;
  for (std::size_t k = 0; k < power.size(); ++k) {
    if (sum + power[k] >= total / 2 && power[k] > 0) {
      const double from = static_cast<double>(k), part = (total / 2 - sum) / power[k];
      return step * std::sqrt(from * from + part * (2 * from + 1));
    }
    sum += power[k];
  }
  return 0;
}

/// Does all light of the image that comes this far fall on a pot's base, so that none comes to its side?
bool only_on_base(const Image& image, double radius) {
  if (!image.crosses || !image.front || image.everywhere || !(image.space.from.z() < 0)) return false;
  constexpr int corners = 16;  // of a polygon about the footprint
  for (int k = 0; k < corners; ++k) {
    const double angle = 2 * std::numbers::pi * k / corners, wider = 1 / std::cos(std::numbers::pi / corners);
    const double up = wider * image.half_height * std::sin(angle), across = wider * image.half_width * std::cos(angle);
    if (std::hypot(image.x0 + image.lean * up + across, image.y0 + up) >= radius) return false;
  }
  return true;
}

}  // namespace

FaceLight light_on(const std::vector<Image>& images, const MappedFace& face, double sigma, Effort& effort) {
  if (face.flat) return face_light(images, true, face.layout, sigma, effort);
  FaceLight out;
  out.irradiance.assign(static_cast<std::size_t>(face.layout.columns * face.layout.rows), 0);
  const bool side = face.shape.form == FaceShape::Form::upright;
  FieldTests tests;
  tests.reaches = [&](const Image& image) { return !side || !only_on_base(image, face.shape.radius); };
  if (std::none_of(images.begin(), images.end(), tests.reaches)) return out;
  const SurfaceGrid grid = surface_grid(face.shape, face.layout, sigma, images, effort, tests);
  const std::vector<double> field = field_on_surface(images, grid, effort, tests);
  const double area = face.cell_area();
  for (std::size_t k = 0; k < field.size(); ++k) {
    out.power += field[k] * grid.area[k];
    out.irradiance[static_cast<std::size_t>(grid.cell[k])] += field[k] * grid.area[k] / area;
  }
  return out;
}

double light_on_back(const std::vector<Image>& images, const MappedFace& face, double sigma, Effort& effort) {
  return face_light(images, false, face.layout, sigma, effort).power;
}

double middle_width(const std::vector<MappedFace>& faces, const std::vector<FaceLight>& light) {
  const std::vector<CellLight> cells = lit_cells(faces, light);
  Vector3 middle = Vector3::Zero();
  double power = 0, farthest2 = 0;
  for (const CellLight& cell : cells) middle += cell.power * cell.place, power += cell.power;
  if (!(power > 0)) return 0;
  middle /= power;
  const Vector3 across(1, faces[0].shape.form == FaceShape::Form::lying ? 0 : 1, 1);  // of a tube not along it
  const auto distance2 = [&](const CellLight& cell) { return (cell.place - middle).cwiseProduct(across).squaredNorm(); };
  for (const CellLight& cell : cells) farthest2 = std::max(farthest2, distance2(cell));
  const double farthest = std::sqrt(farthest2);
  if (!(farthest > 0)) return 0;
  constexpr std::size_t steps = 4096;
  std::vector<double> counts(steps + 1, 0);
  for (const CellLight& cell : cells)
    counts[std::min(steps, static_cast<std::size_t>(std::sqrt(distance2(cell)) / farthest * steps))] += cell.power;
  return 2 * median_of(counts, farthest / steps);
}

std::optional<BrightCell> brightest_cell(const std::vector<FaceLight>& light) {
  std::optional<BrightCell> best;
  double most = 0;
  for (std::size_t f = 0; f < light.size(); ++f) {
    const auto& cells = light[f].irradiance;
    const auto here = std::max_element(cells.begin(), cells.end());
    if (here == cells.end() || !(*here > most)) continue;
    most = *here;
    best = BrightCell{f, static_cast<int>(here - cells.begin())};
  }
  return best;
}

PeakStart peak_about(const std::vector<Image>& images, const MappedFace& face, int cell, Effort& effort) {
  const MapFace& layout = face.layout;
  const Vector3 middle = cell_place(face, cell);
  const double cell_x = (layout.x_to - layout.x_from) / layout.columns, cell_y = (layout.y_to - layout.y_from) / layout.rows;
  PeakStart start;
  start.half = 1.5 * std::max(cell_x, cell_y);
  if (face.flat) {
    start.field = plane_field(images, layout, effort);
    start.x = middle.x(), start.y = middle.y();
    return start;
  }
  const double radius = face.shape.radius;
  if (face.shape.form == FaceShape::Form::ball) {  // near its poles cells are narrow and high
    const double high = std::min(std::sqrt(2 * radius * cell_y), cell_y * radius / middle.head<2>().norm());
    start.half = std::max(start.half, 1.5 * high);
  }
  // A curved face is rolled out about the brightest cell: x along it, y up.
  const auto at = [&images, &effort, shape = face.shape, middle](const PlanePoints& points) {
    SurfaceGrid grid;
    for (std::size_t k = 0; k < points.x.size(); ++k) {
      const Vector3 place = shape.step(middle, points.x[k], points.y[k]);
      grid.add(place, shape.normal(place), 0, 0);
    }
    grid.close_block();
    std::vector<double> values = field_on_surface(images, grid, effort);
    values.resize(points.x.size());
    return values;
  };
  start.field.at_points = at;
  start.field.on_grid = [at](const PlaneGrid& grid) {
    PlanePoints points;
    for (int row = 0; row < grid.rows; ++row) {
      for (int column = 0; column < grid.columns; ++column) points.x.push_back(grid.x(column)), points.y.push_back(grid.y(row));
    }
    return at(points);
  };
  // How far y may go before the face ends; x goes all round.
  const double middle_y = face.shape.form == FaceShape::Form::lying ? middle.y() : middle.z();
  start.field.keep = [form = face.shape.form, layout, middle_y](double& /*x*/, double& y, double margin) {
    if (form == FaceShape::Form::ball) return;
    const double half = (layout.y_to - layout.y_from) / 2, centre = (layout.y_from + layout.y_to) / 2 - middle_y;
    const double most = std::max(0.0, half - margin);
    y = std::clamp(y, centre - most, centre + most);
  };
  start.field.inside = [form = face.shape.form, layout, middle_y](double /*x*/, double y, double margin) {
    if (form == FaceShape::Form::ball) return true;
    const double height = y + middle_y;
    return height - margin >= layout.y_from && height + margin <= layout.y_to;
  };
  return start;
}

double other_power(const std::vector<Image>& images, const Receiver& receiver, double sigma, Effort& effort) {
  FieldTests tests;
  tests.reaches = [&receiver](const Image& image) { return receiver.others_see(image.space.from); };
  tests.enters = [&receiver](const Vector3& from, const Vector3& place) { return receiver.enters(from, place); };
  double power = 0;
  if (std::none_of(images.begin(), images.end(), tests.reaches)) return power;
  for (const MappedFace& face : receiver.other_faces()) {
    const SurfaceGrid grid = surface_grid(face.shape, face.layout, sigma, images, effort, tests);
    const std::vector<double> field = field_on_surface(images, grid, effort, tests);
    for (std::size_t k = 0; k < field.size(); ++k) power += field[k] * grid.area[k];
  }
  return power;
}

}  // namespace dishwright
