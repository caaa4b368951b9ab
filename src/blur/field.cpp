// SPDX-License-Identifier: MIT
#include "blur/field.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr int lanes = 8;           // a row's stretch is widened to whole vectors
constexpr std::size_t batch = 256;  // images between transfers to double

void transfer(std::vector<float>& from, std::vector<double>& to, int columns, int stride) {
  const std::size_t rows = from.size() / static_cast<std::size_t>(stride);
  for (std::size_t row = 0; row < rows; ++row) {
    for (int k = 0; k < columns; ++k)
      to[row * static_cast<std::size_t>(columns) + static_cast<std::size_t>(k)] += from[row * static_cast<std::size_t>(stride) + static_cast<std::size_t>(k)];
  }
  std::fill(from.begin(), from.end(), 0.0F);
}

/// First and last + 1 of the cells within `half` of `middle`.
struct Cells {
  int begin = 0, end = 0;
};
Cells cells_within(double middle, double half, double first, double step, int count) {
  const double begin = std::ceil((middle - half - first) / step), end = std::floor((middle + half - first) / step) + 1;
  if (!(end > 0) || !(begin < count)) return {};
  return {static_cast<int>(std::max(begin, 0.0)), static_cast<int>(std::min<double>(end, count))};
}

struct Rows {
  std::vector<float> x, y, sum;
  int stride = 0;
};

void add_image(const Image& image, const PlaneGrid& grid, Rows& rows) {
  const Cells up = image.everywhere ? Cells{0, grid.rows}
                                    : cells_within(image.y0, image.half_height, grid.y_first, grid.step_y, grid.rows);
  for (int row = up.begin; row < up.end; ++row) {
    const double dy = grid.y(row) - image.y0;
    Cells across{0, grid.columns};
    if (!image.everywhere) {
      const double part = dy / image.half_height;
      const double half = image.half_width * std::sqrt(std::max(0.0, 1 - part * part));
      across = cells_within(image.x0 + image.lean * dy, half, grid.x_first, grid.step_x, grid.columns);
    }
    const int n = (across.end - across.begin + lanes - 1) / lanes * lanes;
    if (n <= 0) continue;
    const float from = static_cast<float>(grid.x(across.begin) - image.x0), step = static_cast<float>(grid.step_x);
    float* x = rows.x.data();
    float* y = rows.y.data();
    const float height = static_cast<float>(dy);
#pragma omp simd
    for (int k = 0; k < n; ++k) x[k] = from + step * static_cast<float>(k), y[k] = height;
    image.add(x, y, rows.sum.data() + static_cast<std::ptrdiff_t>(row) * rows.stride + across.begin, n);
  }
}

}  // namespace

std::vector<double> field_on_grid(const std::vector<Image>& images, bool front, const PlaneGrid& grid) {
  std::vector<double> field(static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows), 0);
  Rows rows;
  rows.stride = grid.columns + lanes;
  const std::size_t width = static_cast<std::size_t>(rows.stride);
  rows.x.resize(width), rows.y.resize(width), rows.sum.assign(width * static_cast<std::size_t>(grid.rows), 0);
  std::size_t held = 0;
  for (const Image& image : images) {
    if (image.front != front) continue;
    add_image(image, grid, rows);
    if (++held % batch == 0) transfer(rows.sum, field, grid.columns, rows.stride);
  }
  transfer(rows.sum, field, grid.columns, rows.stride);
  return field;
}

std::vector<double> field_at_points(const std::vector<Image>& images, bool front, const PlanePoints& points) {
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
    if (image.front != front) continue;
    const double half = image.half_width + std::abs(image.lean) * image.half_height;
    const bool near = image.y0 + image.half_height > *y_low && image.y0 - image.half_height < *y_high && image.x0 + half > *x_low &&
                      image.x0 - half < *x_high;
    if (!near && !image.everywhere) continue;
    for (std::size_t k = 0; k < count; ++k) {
      x[k] = static_cast<float>(points.x[k] - image.x0);
      y[k] = static_cast<float>(points.y[k] - image.y0);
    }
    image.add(x.data(), y.data(), sum.data(), static_cast<int>(padded));
    if (++held % batch == 0) flush();
  }
  flush();
  return field;
}

}  // namespace dishwright
