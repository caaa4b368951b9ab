// SPDX-License-Identifier: MIT
#include "tally/face_counts.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <utility>

#include "base/simd_math.h"
#include "base/sobol.h"
#include "base/wide.h"
#include "result/face_maps.h"

namespace dishwright {

inline void FaceCounts::find_bins(const WeightedPoints& points, int* bin) const {
  const double per_x = face.columns / (face.x_to - face.x_from), per_y = face.rows / (face.y_to - face.y_from);
  const double x_from = face.x_from, y_from = face.y_from, last_column = face.columns - 1, last_row = face.rows - 1;
  const int columns = face.columns;
  const auto bin_of = [=](double x, double y) {
    const double column = std::clamp((x - x_from) * per_x, 0.0, last_column),
                 row = std::clamp((y - y_from) * per_y, 0.0, last_row);
    return static_cast<int>(row) * columns + static_cast<int>(column);
  };
  if (form == FaceForm::lying || form == FaceForm::ball || form == FaceForm::upright) {
    // Round walls and balls: the arc from +x, counter-clockwise seen from +z, or from the +y end of a lying one.
    const bool lies = form == FaceForm::lying;
    const double* across = lies ? points.z : points.y;
    const double *high = lies ? points.y : points.z, full = 2 * std::numbers::pi * radius;
    std::array<float, block_size> turns;
    for (int from = 0; from < points.n; from += block_size) {
      const int count = std::min(block_size, points.n - from);
      turns_of(across + from, points.x + from, turns.data(), count);
#pragma omp simd
      for (int i = 0; i < count; ++i) {
        const double part = static_cast<double>(turns[static_cast<std::size_t>(i)]);
        bin[from + i] = bin_of(full * (lies && part > 0 ? 1 - part : part), high[from + i]);
      }
    }
  } else {
#pragma omp simd
    for (int i = 0; i < points.n; ++i) bin[i] = bin_of(points.x[i], points.y[i]);
  }
}

void FaceCounts::bins(const WeightedPoints& points, int* bin) const { on_wide_lanes<&FaceCounts::find_bins>(*this, points, bin); }

std::vector<FaceCounts> make_face_counts(const Scene& scene, const SurfaceList& list, const std::vector<double>& fine) {
  std::vector<FaceCounts> charts;
  for (std::size_t k = 0; k < list.surfaces.size(); ++k) {
    const Surface& surface = list.surfaces[k];
    if (!surface.counts()) continue;
    const std::size_t target = static_cast<std::size_t>(surface.owner);
    FaceCounts chart;
    chart.surface = static_cast<int>(k);
    chart.target = surface.owner;
    chart.form = surface.target_face->form;
    chart.radius = surface.target_face->radius;
    chart.face = target_faces(scene.targets[target].shape, fine[target])[static_cast<std::size_t>(surface.face)];
    charts.push_back(std::move(chart));
  }
  return charts;
}

}  // namespace dishwright
