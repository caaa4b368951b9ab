// SPDX-License-Identifier: MIT
#include "survey/spots.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace dishwright {

namespace {

constexpr std::size_t company = 7;  // a sample and the six nearest others

/// Grows a patch from its top over neighbours that stand off by more than half as much on the same side.
std::vector<std::size_t> patch_from(std::size_t top, const SlopeMap& map, const Neighbours& near, std::vector<char>& taken) {
  std::vector<std::size_t> patch = {top};
  taken[top] = 1;
  const double height = map.points[top].value;
  for (std::size_t k = 0; k < patch.size(); ++k) {
    for (const Neighbour& other : near.nearest(map.samples[patch[k]].place, company)) {
      if (taken[other.index] != 0 || map.points[other.index].value * height <= 0) continue;
      if (std::abs(map.points[other.index].value) < std::abs(height) / 2) continue;
      taken[other.index] = 1;
      patch.push_back(other.index);
    }
  }
  return patch;
}

/// The skirt of a patch belongs to it: falling neighbours are no tops of their own.
void take_skirt(const std::vector<std::size_t>& patch, const SlopeMap& map, const Neighbours& near, std::vector<char>& taken) {
  std::vector<std::size_t> edge = patch;
  for (std::size_t k = 0; k < edge.size(); ++k) {
    for (const Neighbour& other : near.nearest(map.samples[edge[k]].place, company)) {
      const double here = map.points[edge[k]].value, there = map.points[other.index].value;
      if (taken[other.index] != 0 || here * there <= 0 || std::abs(there) > std::abs(here)) continue;
      taken[other.index] = 1;
      edge.push_back(other.index);
    }
  }
}

}  // namespace

std::vector<Spot> worst_spots(const SurveyPoints& survey, const ShapeFit& fit, const SlopeMap& map, std::size_t most) {
  std::vector<Eigen::Vector2d> places;
  for (const SurveySample& sample : map.samples) places.push_back(sample.place);
  const Neighbours near(std::move(places));
  std::vector<std::size_t> order(map.samples.size());
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return std::abs(map.points[a].value) > std::abs(map.points[b].value); });
  std::vector<char> taken(order.size(), 0);
  std::vector<Spot> out;
  for (const std::size_t top : order) {
    if (out.size() == most) break;
    const SlopePoint& point = map.points[top];
    if (std::abs(point.value) <= std::max(2 * point.value_error, survey.step / 2) ||
        std::abs(point.value) < 1e-9 * fit.shape.size)
      break;
    if (taken[top] != 0) continue;
    Spot spot;
    spot.samples = patch_from(top, map, near, taken);
    take_skirt(spot.samples, map, near, taken);
    spot.place = fit.shape.from_own(map.samples[top].foot).head<2>();
    spot.height = point.value, spot.height_error = point.value_error;
    double share = 0;
    for (const std::size_t i : spot.samples) share += map.samples[i].share;
    spot.across = std::sqrt(4 * share * map.area / std::numbers::pi);
    out.push_back(spot);
  }
  return out;
}

}  // namespace dishwright
