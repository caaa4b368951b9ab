// SPDX-License-Identifier: MIT
#include "report/trace/map_smooth.h"

#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

constexpr double wanted_grain = 0.03;
constexpr int most_passes = 12;

std::size_t index(const MapFace& face, int column, int row) {
  return static_cast<std::size_t>(row) * static_cast<std::size_t>(face.columns) + static_cast<std::size_t>(column);
}

std::vector<char> inside_bins(const MapFace& face) {
  std::vector<char> inside(face.irradiance.size(), 1);
  if (!face.round) return inside;
  for (int row = 0; row < face.rows; ++row) {
    for (int column = 0; column < face.columns; ++column) {
      const double u = (column + 0.5) / face.columns * 2 - 1, v = (row + 0.5) / face.rows * 2 - 1;
      inside[index(face, column, row)] = u * u + v * v <= 1 ? 1 : 0;
    }
  }
  return inside;
}

/// Mean square of the fourth difference over bins brighter than `bright`, along x (step 1, 0) or y (0, 1).
double fourth_difference(const MapFace& face, double bright, int step_x, int step_y) {
  double sum = 0;
  int count = 0;
  for (int row = 2 * step_y; row < face.rows - 2 * step_y; ++row) {
    for (int column = 2 * step_x; column < face.columns - 2 * step_x; ++column) {
      if (face.irradiance[index(face, column, row)] < bright) continue;
      const auto at = [&](int k) { return face.irradiance[index(face, column + k * step_x, row + k * step_y)]; };
      const double difference = at(-2) - 4 * at(-1) + 6 * at(0) - 4 * at(1) + at(2);
      sum += difference * difference / 70;
      ++count;
    }
  }
  return count > 0 ? sum / count : 0;
}

/// One pass of (1, 2, 1)/4 along one direction; bins outside the face do not count.
void smooth_along(const MapFace& face, const std::vector<char>& inside, int step_x, int step_y, std::vector<double>& values) {
  const std::vector<double> before = values;
  for (int row = 0; row < face.rows; ++row) {
    for (int column = 0; column < face.columns; ++column) {
      const std::size_t here = index(face, column, row);
      if (inside[here] == 0) continue;
      double sum = 2 * before[here], weights = 2;
      for (const int k : {-1, 1}) {
        const int c = column + k * step_x, r = row + k * step_y;
        if (c < 0 || r < 0 || c >= face.columns || r >= face.rows || inside[index(face, c, r)] == 0) continue;
        sum += before[index(face, c, r)], weights += 1;
      }
      values[here] = sum / weights;
    }
  }
}

}  // namespace

double map_grain(const MapFace& face) {
  if (face.columns < 5 || face.rows < 5) return 0;
  const double top = *std::max_element(face.irradiance.begin(), face.irradiance.end());
  if (top <= 0) return 0;
  const double bright = top / 3;
  double sum = 0;
  int count = 0;
  for (const double value : face.irradiance) {
    if (value >= bright) sum += value, ++count;
  }
  return std::sqrt(std::min(fourth_difference(face, bright, 1, 0), fourth_difference(face, bright, 0, 1))) / (sum / count);
}

CalmMap smoothed_map(const MapFace& face) {
  CalmMap out{face.irradiance, 0};
  const double grain = map_grain(face);
  double left = 1;  // C(4n, 2n)/16ⁿ
  int passes = 0;
  while (grain * left > wanted_grain && passes < most_passes) {
    ++passes;
    const double n = passes;
    left *= (4 * n - 1) * (4 * n - 3) / ((2 * n) * (2 * n - 1)) / 4;
  }
  const std::vector<char> inside = inside_bins(face);
  for (int i = 0; i < passes; ++i) {
    smooth_along(face, inside, 1, 0, out.irradiance);
    smooth_along(face, inside, 0, 1, out.irradiance);
  }
  out.blur = std::sqrt(passes / 2.0);
  return out;
}

double darkest_ink(const TargetFigures& target, double brightest_bin) {
  constexpr double beyond_grain = 1.25;
  const double peak = target.peak_irradiance ? target.peak_irradiance->value : 0;
  return brightest_bin <= beyond_grain * peak && peak <= beyond_grain * brightest_bin ? peak : brightest_bin;
}

}  // namespace dishwright
