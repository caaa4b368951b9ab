// SPDX-License-Identifier: MIT
#include "quadrature/surface_field.h"

#include <algorithm>
#include <cmath>

#include "base/quadrature_rule.h"

namespace dishwright {

namespace {

constexpr std::size_t lanes = 8;    // blocks are whole vectors
constexpr std::size_t batch = 256;  // images between transfers to double
constexpr double near_looks = 5;    // that a test of a block against an image costs

/// Gauss points for a cell so many detail widths long: 1e-3 of the cell's mean or better.
int points_for(double ratio) { return ratio <= 0.12 ? 1 : std::min(1 + static_cast<int>(std::ceil(ratio)), 24); }

Vector3 place_of(const SurfaceGrid& grid, std::size_t k) { return {grid.px[k], grid.py[k], grid.pz[k]}; }
Vector3 normal_of(const SurfaceGrid& grid, std::size_t k) { return {grid.nx[k], grid.ny[k], grid.nz[k]}; }

/// May the image's light come to the block at all?
bool near(const Image& image, const SurfaceGrid::Block& block) {
  const SpaceRay& ray = image.space;
  const Vector3 apart = block.middle - ray.from;
  const double along = apart.dot(ray.along), far = along + block.radius;
  if (far <= 0) return false;
  const double reach = block.radius + far * ray.reach, aside2 = apart.squaredNorm() - along * along;
  if (aside2 > reach * reach) return false;
  return block.facing.dot(apart) < block.radius + block.turned * (std::sqrt(aside2) + far + block.radius);
}

}  // namespace

void SurfaceGrid::add(const Vector3& place, const Vector3& normal, double area_of, int cell_of) {
  px.push_back(static_cast<float>(place.x())), py.push_back(static_cast<float>(place.y())),
      pz.push_back(static_cast<float>(place.z()));
  nx.push_back(static_cast<float>(normal.x())), ny.push_back(static_cast<float>(normal.y())),
      nz.push_back(static_cast<float>(normal.z()));
  support.push_back(static_cast<float>(normal.dot(place)));
  area.push_back(area_of);
  cell.push_back(cell_of);
}

void SurfaceGrid::close_block() {
  Block block;
  block.begin = blocks.empty() ? 0 : blocks.back().end;
  if (block.begin == px.size()) return;
  while (px.size() % lanes != 0) {
    for (auto* values : {&px, &py, &pz, &nx, &ny, &nz, &support}) values->push_back(values->back());
    area.push_back(0);
    cell.push_back(cell.back());
  }
  block.end = px.size();
  for (std::size_t k = block.begin; k < block.end; ++k) block.middle += place_of(*this, k), block.facing += normal_of(*this, k);
  const double count = static_cast<double>(block.end - block.begin);
  block.middle /= count, block.facing /= count;
  for (std::size_t k = block.begin; k < block.end; ++k) {
    block.radius = std::max(block.radius, (place_of(*this, k) - block.middle).norm());
    block.turned = std::max(block.turned, (normal_of(*this, k) - block.facing).norm());
  }
  blocks.push_back(block);
}

namespace {

/// Makes the cells of a map into blocks of neighbours.
class GridMaker {
 public:
  GridMaker(const FaceShape& shape, const MapFace& layout, double sigma)
      : shape_(shape),
        layout_(layout),
        cell_x_((layout.x_to - layout.x_from) / layout.columns),
        cell_y_((layout.y_to - layout.y_from) / layout.rows),
        along_x_(gauss_rule(points_for(cell_x_ / sigma))) {
    for (int row = 0; row < layout.rows; ++row) {
      const int count = points_for(cell_y_ / std::min(shape.y_scale(y(row), sigma), shape.y_scale(y(row + 1), sigma)));
      if (row > 0 && static_cast<std::size_t>(count) == along_y_.back().at.size()) {
        along_y_.push_back(along_y_.back());
      } else {
        along_y_.push_back(gauss_rule(count));
      }
    }
    for (int column = 0; column < layout.columns; ++column) {
      for (const double at : along_x_.at) points_.push_back(around(column + at));
      halves_.push_back(around(column)), halves_.push_back(around(column + 0.5));
    }
    halves_.push_back(around(layout.columns));
  }

  /// Bounds of the cells from (column, row) to before (column_to, row_to).
  SurfaceGrid::Block bounds(int column, int row, int column_to, int row_to) const {
    SurfaceGrid probe;
    for (int k = 0; k < 9; ++k) {
      const int half_rows = k / 3, half_columns = k % 3;
      const Around& at = halves_[static_cast<std::size_t>(2 * column + half_columns * (column_to - column))];
      const Vector3 place = shape_.place_by(at.cosine, at.sine, y(row + half_rows / 2.0 * (row_to - row)));
      probe.add(place, shape_.normal(place), 0, 0);
    }
    probe.close_block();
    SurfaceGrid::Block block = probe.blocks[0];
    block.radius *= 1.2, block.turned *= 1.2;
    return block;
  }
  void add_cell(SurfaceGrid& grid, int row, int column) const {
    const Rule& up = along_y_[static_cast<std::size_t>(row)];
    for (std::size_t j = 0; j < up.at.size(); ++j) {
      for (std::size_t i = 0; i < along_x_.at.size(); ++i) {
        const Around& at = points_[static_cast<std::size_t>(column) * along_x_.at.size() + i];
        const Vector3 place = shape_.place_by(at.cosine, at.sine, y(row + up.at[j]));
        grid.add(place, shape_.normal(place), cell_x_ * cell_y_ * along_x_.weight[i] * up.weight[j],
                 row * layout_.columns + column);
      }
    }
  }
  int tile() const { return along_x_.at.size() == 1 ? 8 : 4; }

 private:
  struct Around {
    double cosine, sine;
  };
  Around around(double column) const {
    const double angle = (layout_.x_from + column * cell_x_) / shape_.radius;
    return {std::cos(angle), std::sin(angle)};
  }
  double y(double row) const { return layout_.y_from + row * cell_y_; }
  const FaceShape& shape_;
  const MapFace& layout_;
  double cell_x_, cell_y_;
  Rule along_x_;
  std::vector<Rule> along_y_;
  std::vector<Around> points_, halves_;  // by column: of its points; its beginning and middle
};

}  // namespace

SurfaceGrid surface_grid(const FaceShape& shape, const MapFace& layout, double sigma, const std::vector<Image>& images,
                         Effort& effort, const FieldTests& tests) {
  SurfaceGrid grid;
  const GridMaker maker(shape, layout, sigma);
  const int tile = maker.tile();
  std::vector<const Image*> wanted;
  for (const Image& image : images) {
    if (!tests.reaches || tests.reaches(image)) wanted.push_back(&image);
  }
  for (int row_from = 0; row_from < layout.rows; row_from += tile) {
    const int row_to = std::min(row_from + tile, layout.rows);
    for (int from = 0; from < layout.columns; from += tile) {
      const int to = std::min(from + tile, layout.columns);
      const SurfaceGrid::Block bounds = maker.bounds(from, row_from, to, row_to);
      const auto first = std::find_if(wanted.begin(), wanted.end(), [&](const Image* image) { return near(*image, bounds); });
      effort.spend(near_looks * static_cast<double>(first - wanted.begin() + 10));
      if (first == wanted.end()) continue;
      for (int row = row_from; row < row_to; ++row) {
        for (int column = from; column < to; ++column) maker.add_cell(grid, row, column);
      }
      grid.close_block();
    }
  }
  return grid;
}

std::vector<double> field_on_surface(const std::vector<Image>& images, const SurfaceGrid& grid, Effort& effort,
                                     const FieldTests& tests) {
  std::vector<double> field(grid.px.size(), 0);
  std::vector<float> sum(grid.px.size(), 0), light(grid.px.size(), 0);
  std::size_t held = 0;
  const auto transfer = [&] {
    for (std::size_t k = 0; k < field.size(); ++k) field[k] += sum[k];
    std::fill(sum.begin(), sum.end(), 0.0F);
    held = 0;
  };
  for (const Image& image : images) {
    if (tests.reaches && !tests.reaches(image)) continue;
    effort.spend(near_looks * static_cast<double>(grid.blocks.size()));
    for (const SurfaceGrid::Block& block : grid.blocks) {
      if (!near(image, block)) continue;
      const SurfacePlaces places{grid.px.data() + block.begin,     grid.py.data() + block.begin, grid.pz.data() + block.begin,
                                 grid.nx.data() + block.begin,     grid.ny.data() + block.begin, grid.nz.data() + block.begin,
                                 grid.support.data() + block.begin};
      const int count = static_cast<int>(block.end - block.begin);
      effort.spend(image.looks() * count);
      if (!tests.enters) {
        image.add(places, sum.data() + block.begin, count);
        continue;
      }
      std::fill(light.begin(), light.begin() + count, 0.0F);
      image.add(places, light.data(), count);
      for (std::size_t k = block.begin; k < block.end; ++k) {
        if (tests.enters(image.space.from, place_of(grid, k))) sum[k] += light[k - block.begin];
      }
    }
    if (++held == batch) transfer();
  }
  transfer();
  return field;
}

}  // namespace dishwright
