// SPDX-License-Identifier: MIT
// Images of strips: the image of one place, integrated along the plane's y, along which it only moves.
#include <algorithm>
#include <array>
#include <cmath>

#include "base/quadrature_rule.h"
#include "quadrature/image.h"

namespace dishwright {

namespace {

constexpr double nodes_a_sigma = 1.6;  // of Gauss's rule: 1e-5 of a Gaussian's integral, from wherever to wherever, by trial
constexpr int most_at_once = 256;      // places

}  // namespace

void draw_out(Image& image, double length) {
  image.single_height = image.half_height;
  image.half_strip = length / 2;
  image.strip_nodes = std::clamp(static_cast<int>(std::ceil(nodes_a_sigma * 2 * image.half_height / image.smooth)), 10, 400);
  image.half_width += std::abs(image.lean) * image.half_height;
  image.lean = 0;
  image.half_height += length / 2;
  image.width2 += length * length / 12;
}

double Image::looks(const std::vector<ImageRow>& rows) const {
  double places = 0, all_along = 0;
  for (const ImageRow& row : rows) (half_strip > 0 && lit_all_along(row.y) ? all_along : places) += row.count;
  return looks() * places + all_along;
}

void Image::add_strip(const float* x, const float* y, float* irradiance, int n) const {
  const Rule rule = gauss_rule(strip_nodes);
  const float reach = static_cast<float>(single_height), half = static_cast<float>(half_strip);
  std::array<float, most_at_once> from{}, over{}, at{}, light{}, sum{};
  for (int first = 0; first < n; first += most_at_once) {
    const int count = std::min(n - first, most_at_once);
    const float *xs = x + first, *ys = y + first;
    for (int i = 0; i < count; ++i) {
      const std::size_t k = static_cast<std::size_t>(i);
      from[k] = std::clamp(ys[i] - reach, -half, half), over[k] = std::clamp(ys[i] + reach, -half, half) - from[k];
      sum[k] = 0;
    }
    for (std::size_t node = 0; node < rule.at.size(); ++node) {
      const float share = static_cast<float>(rule.at[node]), weight = static_cast<float>(rule.weight[node] / (2 * half_strip));
      for (int i = 0; i < count; ++i) {
        const std::size_t k = static_cast<std::size_t>(i);
        at[k] = ys[i] - from[k] - share * over[k], light[k] = 0;
      }
      add_single(xs, at.data(), light.data(), count);
      for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) sum[k] += weight * over[k] * light[k];
    }
    for (int i = 0; i < count; ++i) irradiance[first + i] += sum[static_cast<std::size_t>(i)];
  }
}

// Rows that are lit from all along the strip are alike.
void Image::add_strip(const std::vector<ImageRow>& rows, float step, float* irradiance) const {
  std::vector<float> x, y, alike;
  float alike_x = 0;
  for (const ImageRow& row : rows) {
    const std::size_t count = static_cast<std::size_t>(row.count);
    const bool all_along = lit_all_along(row.y);
    if (!all_along || alike.size() != count || alike_x != row.x) {
      x.resize(count), y.assign(count, all_along ? 0.0F : row.y);
      for (std::size_t k = 0; k < count; ++k) x[k] = row.x + step * static_cast<float>(k);
      if (!all_along) {
        add_strip(x.data(), y.data(), irradiance + row.to, row.count);
        continue;
      }
      alike.assign(count, 0.0F), alike_x = row.x;
      add_strip(x.data(), y.data(), alike.data(), row.count);
    }
    for (std::size_t k = 0; k < count; ++k) irradiance[row.to + static_cast<std::ptrdiff_t>(k)] += alike[k];
  }
}

}  // namespace dishwright
