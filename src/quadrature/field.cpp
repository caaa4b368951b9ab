// SPDX-License-Identifier: MIT
#include "quadrature/field.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr int lanes = 8;            // calls are made for whole vectors
constexpr std::size_t batch = 256;  // images between transfers to double
/// First and last + 1 of the cells within `half` of `middle`.
struct Cells {
  int begin = 0, end = 0;
};
Cells cells_within(double middle, double half, double first, double step, int count) {
  const double begin = std::ceil((middle - half - first) / step), end = std::floor((middle + half - first) / step) + 1;
  if (!(end > 0) || !(begin < count)) return {};
  return {static_cast<int>(std::max(begin, 0.0)), static_cast<int>(std::min<double>(end, count))};
}

/// The parts of a grid's rows that an image reaches, in whole vectors; `stride` floats to a row.
void set_rows(const Image& image, const PlaneGrid& grid, std::ptrdiff_t stride, std::vector<ImageRow>& rows) {
  rows.clear();
  const Cells up =
      image.everywhere ? Cells{0, grid.rows} : cells_within(image.y0, image.half_height, grid.y_first, grid.step_y, grid.rows);
  for (int row = up.begin; row < up.end; ++row) {
    const double dy = grid.y(row) - image.y0;
    Cells across{0, grid.columns};
    if (!image.everywhere) {
      const double part = dy / image.half_height;
      const double half = image.half_width * (image.half_strip > 0 ? 1 : std::sqrt(std::max(0.0, 1 - part * part)));
      across = cells_within(image.x0 + image.lean * dy, half, grid.x_first, grid.step_x, grid.columns);
    }
    if (across.end <= across.begin) continue;
    rows.push_back({static_cast<float>(grid.x(across.begin) - image.x0), static_cast<float>(dy), row * stride + across.begin,
                    (across.end - across.begin + lanes - 1) / lanes * lanes});
  }
}

}  // namespace

double smoothness(const std::vector<Image>& images, bool front) {
  double least = 1e300;
  for (const Image& image : images) {
    if (image.crosses && image.front == front) least = std::min(least, image.smooth);
  }
  return least < 1e300 ? least : 0;
}

std::vector<double> field_on_grid(const std::vector<Image>& images, bool front, const PlaneGrid& grid, Effort& effort) {
  const std::size_t columns = static_cast<std::size_t>(grid.columns), stride = columns + lanes - 1;
  std::vector<double> field(columns * static_cast<std::size_t>(grid.rows), 0);
  std::vector<float> sum(stride * static_cast<std::size_t>(grid.rows), 0);
  const auto transfer = [&] {
    for (std::size_t row = 0; row < field.size() / columns; ++row) {
      for (std::size_t k = 0; k < columns; ++k) field[row * columns + k] += sum[row * stride + k];
    }
    std::fill(sum.begin(), sum.end(), 0.0F);
  };
  std::vector<ImageRow> rows;
  std::size_t held = 0;
  for (const Image& image : images) {
    if (!image.crosses || image.front != front) continue;
    set_rows(image, grid, static_cast<std::ptrdiff_t>(stride), rows);
    effort.spend(image.looks(rows));
    image.add(rows, static_cast<float>(grid.step_x), sum.data());
    if (++held % batch == 0) transfer();
  }
  transfer();
  return field;
}

std::vector<double> field_at_points(const std::vector<Image>& images, bool front, const PlanePoints& points, Effort& effort) {
  const std::size_t count = points.x.size(), padded = (count + lanes - 1) / lanes * lanes;
  std::vector<double> field(count, 0);
  if (count == 0) return field;
  std::vector<float> x(padded, 1e6F), y(padded, 1e6F), sum(padded, 0);
  const auto [x_low, x_high] = std::minmax_element(points.x.begin(), points.x.end());
  const auto [y_low, y_high] = std::minmax_element(points.y.begin(), points.y.end());
  std::size_t held = 0;
  const auto flush = [&] {
    for (std::size_t k = 0; k < count; ++k) field[k] += sum[k];
    std::fill(sum.begin(), sum.end(), 0.0F);
  };
  for (const Image& image : images) {
    if (!image.crosses || image.front != front) continue;
    // Images that reach none of the points are left out.
    const double half = image.half_width + std::abs(image.lean) * image.half_height;
    const bool near = image.y0 + image.half_height > *y_low && image.y0 - image.half_height < *y_high &&
                      image.x0 + half > *x_low && image.x0 - half < *x_high;
    if (!near && !image.everywhere) continue;
    for (std::size_t k = 0; k < count; ++k) {
      x[k] = static_cast<float>(points.x[k] - image.x0);
      y[k] = static_cast<float>(points.y[k] - image.y0);
    }
    effort.spend(image.looks() * static_cast<double>(padded));
    image.add(x.data(), y.data(), sum.data(), static_cast<int>(padded));
    if (++held % batch == 0) flush();
  }
  flush();
  return field;
}

}  // namespace dishwright
