// SPDX-License-Identifier: MIT
#include "quadrature/between.h"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/bessel.hpp>
#include <cmath>
#include <numbers>

namespace dishwright {

namespace {

constexpr int reach = 10, taps = 2 * reach;
constexpr double window = 14;    // Kaiser's shape, for places half a σ apart: by trial over Gaussians and offsets
constexpr double apart = 0.5;    // of σ, between two places
constexpr int most_between = 8;  // beyond it nothing is gained: the margin costs more

using Weights = std::array<float, taps>;

/// Weights of the places −reach + 1 … reach about the one before, for a point `part` of the way to the next.
Weights weights_at(double part) {
  std::array<double, taps> weight{};
  double sum = 0;
  for (int k = 0; k < taps; ++k) {
    const double x = part - (k - reach + 1), in = x / reach;
    const double sinc = std::abs(x) < 1e-12 ? 1 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x);
    weight[static_cast<std::size_t>(k)] = sinc * boost::math::cyl_bessel_i(0, window * std::sqrt(std::max(0.0, 1 - in * in)));
    sum += weight[static_cast<std::size_t>(k)];
  }
  Weights out{};
  for (std::size_t k = 0; k < out.size(); ++k) out[k] = static_cast<float>(weight[k] / sum);
  return out;
}

/// By how many n-ths of the way; the first is a place itself.
std::vector<Weights> all_weights(int every) {
  std::vector<Weights> out;
  out.reserve(static_cast<std::size_t>(every));
  for (int k = 0; k < every; ++k) out.push_back(weights_at(static_cast<double>(k) / every));
  return out;
}

/// One axis of a grid: the first place and the number of the thin one's.
void thin_axis(double& first, double& step, int& count, int& every) {
  const int thin = (count - 1) / every + taps;
  if (every == 1 || thin >= count) {
    every = 1;
    return;
  }
  step *= every;
  first -= (reach - 1) * step;
  count = thin;
}

/// One row drawn out along x.
void draw_row(const float* from, int count, int every, const std::vector<Weights>& weights, float* scratch, float* to) {
  for (int phase = 0; phase < every && phase < count; ++phase) {
    const int here = (count - 1 - phase) / every + 1;
    const float* source = from + reach - 1;
    if (phase > 0) {
      const Weights& weight = weights[static_cast<std::size_t>(phase)];
      std::fill(scratch, scratch + here, 0.0F);
      for (int k = 0; k < taps; ++k) {
        const float share = weight[static_cast<std::size_t>(k)];
        const float* moved = from + k;
#pragma omp simd
        for (int j = 0; j < here; ++j) scratch[j] += share * moved[j];
      }
      source = scratch;
    }
    for (int j = 0; j < here; ++j) to[j * every + phase] = source[j];
  }
}

/// Columns of the fine grid between which a row may be lit.
struct Lit {
  std::size_t from = 0, to = 0;
  bool dark = true;
};

/// From the last dark place of the thin row before its light to the first after it.
Lit lit_part(const double* values, const ThinGrid& thin, int columns) {
  const double* end = values + thin.grid.columns;
  const auto bright = [](double value) { return value != 0; };
  const double* first = std::find_if(values, end, bright);
  if (first == end) return {};
  const double* last = end - 1;
  while (!bright(*last)) --last;
  const int offset = thin.every_x == 1 ? 0 : reach - 1;
  const auto column = [&](std::ptrdiff_t place) {
    return static_cast<std::size_t>(std::clamp((static_cast<int>(place) - offset) * thin.every_x, 0, columns));
  };
  return {column(first - values - 1), column(last - values + 1), false};
}

Lit joined(const Lit& a, const Lit& b) {
  if (a.dark) return b;
  if (b.dark) return a;
  return {std::min(a.from, b.from), std::max(a.to, b.to), false};
}

}  // namespace

int steps_between(double smooth, double step) {
  return static_cast<int>(std::clamp(std::floor(apart * smooth / step), 1.0, static_cast<double>(most_between)));
}

ThinGrid thin_grid(const PlaneGrid& fine, double smooth) {
  ThinGrid thin{fine, steps_between(smooth, fine.step_x), steps_between(smooth, fine.step_y)};
  PlaneGrid& grid = thin.grid;
  thin_axis(grid.x_first, grid.step_x, grid.columns, thin.every_x);
  thin_axis(grid.y_first, grid.step_y, grid.rows, thin.every_y);
  return thin;
}

std::vector<double> drawn_between(const std::vector<double>& values, const ThinGrid& thin, const PlaneGrid& fine) {
  if (thin.every_x == 1 && thin.every_y == 1) return values;
  const auto size = [](int n) { return static_cast<std::size_t>(n); };
  const std::size_t width = size(fine.columns);
  // Along x, row by row of the thin grid.
  std::vector<float> rows(size(thin.grid.rows) * width, 0.0F), row(size(thin.grid.columns)), scratch(width);
  std::vector<Lit> lit(size(thin.grid.rows));
  const std::vector<Weights> along_x = all_weights(thin.every_x), along_y = all_weights(thin.every_y);
  for (std::size_t k = 0; k < lit.size(); ++k) {
    const double* from = values.data() + k * row.size();
    lit[k] = lit_part(from, thin, fine.columns);
    if (lit[k].dark) continue;
    std::transform(from, from + row.size(), row.begin(), [](double value) { return static_cast<float>(value); });
    float* to = rows.data() + k * width;
    if (thin.every_x == 1) {
      std::copy(row.begin(), row.end(), to);
    } else {
      draw_row(row.data(), fine.columns, thin.every_x, along_x, scratch.data(), to);
    }
  }
  // Along y, as sums of whole rows.
  const int offset = thin.every_y == 1 ? 0 : reach - 1;
  std::vector<double> out(size(fine.rows) * width, 0);
  for (int k = 0; k < fine.rows; ++k) {
    const int phase = k % thin.every_y, before = k / thin.every_y + offset;  // thin row before this one, or this one
    const Lit part = joined(lit[size(before)], lit[size(phase > 0 ? before + 1 : before)]);
    if (part.dark) continue;
    std::fill(scratch.begin(), scratch.end(), 0.0F);
    for (int j = phase > 0 ? 0 : offset; j < (phase > 0 ? taps : offset + 1); ++j) {
      const std::size_t source = size(before - offset + j);
      if (lit[source].dark) continue;
      const float share = phase > 0 ? along_y[size(phase)][size(j)] : 1.0F;
      const float* from = rows.data() + source * width;
#pragma omp simd
      for (std::size_t i = part.from; i < part.to; ++i) scratch[i] += share * from[i];
    }
    double* to = out.data() + size(k) * width;
    for (std::size_t i = part.from; i < part.to; ++i) to[i] = std::max(scratch[i], 0.0F);
  }
  return out;
}

}  // namespace dishwright
