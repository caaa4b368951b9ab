// SPDX-License-Identifier: MIT
#include "quadrature/field.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr int lanes = 8;            // calls are made for whole vectors
constexpr std::size_t batch = 256;  // images between transfers to double
constexpr int held_most = 2048;     // places handed to an image at once

void transfer(std::vector<float>& from, std::vector<double>& to) {
  for (std::size_t k = 0; k < to.size(); ++k) to[k] += from[k];
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

/// Stretches of rows, packed so that an image is asked seldom and for many places.
class Stretches {
 public:
  explicit Stretches(int longest) : x_(held_most + longest + lanes), y_(x_.size()), light_(x_.size()) {}

  void add(const Image& image, float from, float step, float height, int count, float* sum) {
    if (held_ + count > held_most) flush(image);
    float* x = x_.data() + held_;
    float* y = y_.data() + held_;
#pragma omp simd
    for (int k = 0; k < count; ++k) x[k] = from + step * static_cast<float>(k), y[k] = height;
    pieces_.push_back({held_, count, sum});
    held_ += count;
  }
  void flush(const Image& image) {
    const int padded = (held_ + lanes - 1) / lanes * lanes;
    for (int k = held_; k < padded; ++k) x_[static_cast<std::size_t>(k)] = y_[static_cast<std::size_t>(k)] = 0;
    std::fill(light_.begin(), light_.begin() + padded, 0.0F);
    image.add(x_.data(), y_.data(), light_.data(), padded);
    for (const Piece& piece : pieces_) {
      const float* light = light_.data() + piece.begin;
#pragma omp simd
      for (int k = 0; k < piece.count; ++k) piece.sum[k] += light[k];
    }
    pieces_.clear();
    held_ = 0;
  }

 private:
  struct Piece {
    int begin, count;
    float* sum;
  };
  std::vector<float> x_, y_, light_;
  std::vector<Piece> pieces_;
  int held_ = 0;
};

void add_image(const Image& image, const PlaneGrid& grid, Stretches& stretches, std::vector<float>& sum, Effort& effort) {
  const Cells up =
      image.everywhere ? Cells{0, grid.rows} : cells_within(image.y0, image.half_height, grid.y_first, grid.step_y, grid.rows);
  for (int row = up.begin; row < up.end; ++row) {
    const double dy = grid.y(row) - image.y0;
    Cells across{0, grid.columns};
    if (!image.everywhere) {
      const double part = dy / image.half_height;
      const double half = image.half_width * std::sqrt(std::max(0.0, 1 - part * part));
      across = cells_within(image.x0 + image.lean * dy, half, grid.x_first, grid.step_x, grid.columns);
    }
    if (across.end <= across.begin) continue;
    effort.spend(image.looks() * (across.end - across.begin));
    stretches.add(image, static_cast<float>(grid.x(across.begin) - image.x0), static_cast<float>(grid.step_x),
                  static_cast<float>(dy), across.end - across.begin,
                  sum.data() + static_cast<std::ptrdiff_t>(row) * grid.columns + across.begin);
  }
  stretches.flush(image);
}

}  // namespace

std::vector<double> field_on_grid(const std::vector<Image>& images, bool front, const PlaneGrid& grid, Effort& effort) {
  std::vector<double> field(static_cast<std::size_t>(grid.columns) * static_cast<std::size_t>(grid.rows), 0);
  std::vector<float> sum(field.size(), 0);
  Stretches stretches(grid.columns);
  std::size_t held = 0;
  for (const Image& image : images) {
    if (!image.crosses || image.front != front) continue;
    add_image(image, grid, stretches, sum, effort);
    if (++held % batch == 0) transfer(sum, field);
  }
  transfer(sum, field);
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
