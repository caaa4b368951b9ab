// SPDX-License-Identifier: MIT
#include "tally/counts.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/bits.h"
#include "base/wide.h"
#include "trace/rays.h"

namespace dishwright {

namespace {

/// Weights as whole numbers, on the vector lanes (each fits 32 bits).
using WholeWeights = std::array<std::int32_t, block_size>;
void to_whole(const WeightedPoints& points, WholeWeights& whole) {
#pragma omp simd
  for (int i = 0; i < points.n; ++i) whole[static_cast<std::size_t>(i)] = static_cast<std::int32_t>(points.weight[i]);
}

}  // namespace

RadialBins RadialBins::around(double r50, double r90) {
  const auto bits = [](double squared) {
    return bits_as<std::uint32_t>(static_cast<float>(std::clamp(squared, 1e-36, 1e36))) >> kept_bits;
  };
  RadialBins bins;
  bins.first = bits(r50 * r50 * 0x1p-24);
  bins.count = bits(r90 * r90 * 0x1p24) - bins.first + 1;
  return bins;
}

double RadialBins::edge(std::uint32_t bin) const {
  return bin == 0 ? 0.0 : static_cast<double>(bits_as<float>((first + bin) << kept_bits));
}

TallyPlan make_tally_plan(const Scene& scene, const SurfaceList& list, std::uint32_t replicates,
                          std::vector<TargetScale> scales) {
  TallyPlan plan;
  plan.scene = &scene;
  plan.list = &list;
  plan.replicates = replicates;
  std::vector<double> fine;
  for (std::size_t k = 0; k < scene.targets.size(); ++k) {
    plan.radial.push_back(has_spot_plane(scene.targets[k].shape) ? RadialBins::around(scales[k].r50, scales[k].r90)
                                                                 : RadialBins{});
    plan.plate.push_back(is_plate(scene.targets[k].shape));
    plan.even.push_back(uniformity_circle(scene, scene.targets[k], scales[k]));
    fine.push_back(scales[k].window.any ? 15 * scales[k].window.disc : 0);
  }
  plan.charts = make_face_counts(scene, list, fine);
  plan.chart_of_surface.resize(list.surfaces.size());
  for (std::size_t c = 0; c < plan.charts.size(); ++c) {
    plan.chart_of_surface[static_cast<std::size_t>(plan.charts[c].surface)].push_back(static_cast<int>(c));
  }
  plan.scales = std::move(scales);
  return plan;
}

TallyCounts::TallyCounts(const TallyPlan& plan) : plan_(plan), rows_(plan.replicates) {
  const std::size_t targets = plan.scales.size();
  for (Row& row : rows_) {
    row.slots.assign(plan.list->slot_names.size(), 0);
    row.even.assign(targets, UniformityParts{});
    row.moments.resize(targets);
    for (const RadialBins& bins : plan.radial) row.radial.emplace_back(bins.count, 0);
  }
  for (const FaceCounts& chart : plan.charts)
    maps_.emplace_back(static_cast<std::size_t>(chart.face.columns * chart.face.rows), 0);
  windows_.resize(targets);
}

void TallyCounts::landed(int surface, const WeightedPoints& points) {
  const std::size_t target = static_cast<std::size_t>(plan_.list->surfaces[static_cast<std::size_t>(surface)].owner);
  std::array<int, block_size> bin;
  WholeWeights whole;
  to_whole(points, whole);
  for (const int c : plan_.chart_of_surface[static_cast<std::size_t>(surface)]) {
    plan_.charts[static_cast<std::size_t>(c)].bins(points, bin.data());
    std::int64_t* map = maps_[static_cast<std::size_t>(c)].data();
    for (std::size_t i = 0; i < static_cast<std::size_t>(points.n); ++i) map[bin[i]] += whole[i];
  }
  if (plan_.plate[target]) add_moments(target, points);
  if (plan_.even[target].any) add_even_parts(target, points);
  if (plan_.scales[target].window.any) on_wide_lanes<&TallyCounts::add_window>(*this, target, points);
}

void TallyCounts::add_moments(std::size_t target, const WeightedPoints& points) {
  const TargetScale& aim = plan_.scales[target];
  const double per = 1 / aim.scale;
  double x_sum = 0, y_sum = 0, r2_sum = 0;
#pragma omp simd reduction(+ : x_sum, y_sum, r2_sum)
  for (int i = 0; i < points.n; ++i) {
    const double share = points.weight[i] * (1 / full_weight);
    const double x = (points.x[i] - aim.centre_x) * per, y = (points.y[i] - aim.centre_y) * per;
    x_sum += share * x;
    y_sum += share * y;
    r2_sum += share * (x * x + y * y);
  }
  auto& sums = row().moments[target];
  sums[0].add(x_sum), sums[1].add(y_sum), sums[2].add(r2_sum);
}

void TallyCounts::add_even_parts(std::size_t target, const WeightedPoints& points) {
  UniformityParts& parts = row().even[target];
  for (int i = 0; i < points.n; ++i) {
    const int part = plan_.even[target].part(points.x[i], points.y[i]);
    if (part >= 0) parts[static_cast<std::size_t>(part)] += static_cast<std::int64_t>(points.weight[i]);
  }
}

inline void TallyCounts::add_window(std::size_t target, const WeightedPoints& points) {
  const PeakWindow& window = plan_.scales[target].window;
  constexpr std::size_t all_cells = static_cast<std::size_t>(PeakWindow::cells) * PeakWindow::cells;
  if (windows_[target].empty()) windows_[target].assign(all_cells * plan_.replicates, 0);
  const float half = PeakWindow::cells / 2.0F;
  const Vector3 middle = window.middle;
  const Eigen::Vector3f across = (window.across * (half / window.half_across)).cast<float>(),
                        up = (window.up * (half / window.half_up)).cast<float>(),
                        normal = window.across.cross(window.up).cast<float>();
  // Neither the far side of a body counts nor the other face of a pot.
  const TargetShape& shape = plan_.scene->targets[target].shape;
  const bool solid = body_of(shape).faces().size() > 1, side = solid && window.radius > 0;
  const float deepest = window.radius > 0 ? static_cast<float>(window.radius) : std::numeric_limits<float>::infinity();
  const double lowest = side ? base_slack * target_width(shape) : -std::numeric_limits<double>::infinity();
  const double highest = solid && !side ? base_slack * target_width(shape) : std::numeric_limits<double>::infinity();
  std::int64_t* cells = windows_[target].data() + replicate_ * all_cells;
  std::array<int, block_size> cell;
#pragma omp simd
  for (int i = 0; i < points.n; ++i) {
    const float x = static_cast<float>(points.x[i] - middle.x()), y = static_cast<float>(points.y[i] - middle.y()),
                z = static_cast<float>(points.z[i] - middle.z());
    const float u = x * across.x() + y * across.y() + z * across.z() + half;
    const float v = x * up.x() + y * up.y() + z * up.z() + half;
    const float off = std::abs(x * normal.x() + y * normal.y() + z * normal.z());
    const bool in = (u >= 0) & (u < PeakWindow::cells) & (v >= 0) & (v < PeakWindow::cells) & (off <= deepest) &
                    (points.z[i] >= lowest) & (points.z[i] <= highest);
    const int column = static_cast<int>(in ? u : 0.0F), row = static_cast<int>(in ? v : 0.0F);
    cell[static_cast<std::size_t>(i)] = in ? row * PeakWindow::cells + column : -1;
  }
  // Those within, without a branch for each.
  std::array<std::uint16_t, block_size> within;
  std::size_t count = 0;
  for (int i = 0; i < points.n; ++i) {
    within[count] = static_cast<std::uint16_t>(i);
    count += cell[static_cast<std::size_t>(i)] >= 0 ? 1 : 0;
  }
  for (std::size_t k = 0; k < count; ++k) cells[cell[within[k]]] += static_cast<std::int64_t>(points.weight[within[k]]);
}

inline void TallyCounts::add_crossed(int target_index, const WeightedPoints& points) {
  const std::size_t target = static_cast<std::size_t>(target_index);
  const TargetScale& aim = plan_.scales[target];
  const RadialBins bins = plan_.radial[target];
  const bool band = is_band(plan_.scene->targets[target].shape);
  const float in_y = band ? 0.0F : 1.0F;
  std::int64_t* counts = row().radial[target].data();
  std::array<std::uint32_t, block_size> bin;
#pragma omp simd
  for (int i = 0; i < points.n; ++i) {
    const float x = static_cast<float>(points.x[i] - aim.centre_x), y = in_y * static_cast<float>(points.y[i] - aim.centre_y);
    bin[static_cast<std::size_t>(i)] = bins.bin(x * x + y * y);
  }
  WholeWeights whole;
  to_whole(points, whole);
  for (std::size_t i = 0; i < static_cast<std::size_t>(points.n); ++i) counts[bin[i]] += whole[i];
}

void TallyCounts::crossed(int target, const WeightedPoints& points) {
  on_wide_lanes<&TallyCounts::add_crossed>(*this, target, points);
}

void TallyCounts::merge(const TallyCounts& other) {
  const auto add = [](std::vector<std::int64_t>& to, const std::vector<std::int64_t>& from) {
    for (std::size_t i = 0; i < to.size(); ++i) to[i] += from[i];
  };
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    Row& to = rows_[r];
    const Row& from = other.rows_[r];
    to.started += from.started;
    to.reached += from.reached;
    to.left += from.left;
    add(to.slots, from.slots);
    for (std::size_t k = 0; k < to.moments.size(); ++k) {
      for (std::size_t j = 0; j < 3; ++j) to.moments[k][j].add(from.moments[k][j]);
      for (std::size_t j = 0; j < to.even[k].size(); ++j) to.even[k][j] += from.even[k][j];
      add(to.radial[k], from.radial[k]);
    }
  }
  for (std::size_t k = 0; k < maps_.size(); ++k) add(maps_[k], other.maps_[k]);
  for (std::size_t k = 0; k < windows_.size(); ++k) {
    if (windows_[k].empty()) windows_[k].resize(other.windows_[k].size(), 0);
    if (!other.windows_[k].empty()) add(windows_[k], other.windows_[k]);
  }
}

}  // namespace dishwright
