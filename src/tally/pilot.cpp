// SPDX-License-Identifier: MIT
#include "tally/pilot.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>

#include "base/sobol.h"

namespace dishwright {

namespace {

/// Distances that hold half and nine tenths of the weight.
std::pair<double, double> half_and_most(std::vector<std::pair<double, double>>& distance_weight) {
  std::sort(distance_weight.begin(), distance_weight.end());
  double total = 0, sum = 0, half = -1;
  for (const auto& [distance, weight] : distance_weight) total += weight;
  for (const auto& [distance, weight] : distance_weight) {
    sum += weight;
    if (half < 0 && sum >= 0.5 * total) half = distance;
    if (sum >= 0.9 * total) return {half, distance};
  }
  return {half, distance_weight.back().first};
}

template <typename Counts>
Vector3 mean_place(const std::vector<LitPlace>& light, const Counts& counts) {
  Vector3 sum = Vector3::Zero();
  double total = 0;
  for (const LitPlace& one : light) {
    if (!counts(one)) continue;
    sum += one.weight * one.place;
    total += one.weight;
  }
  return total > 0 ? Vector3(sum / total) : sum;
}

constexpr double far_away = 10;  // radii that hold nine tenths of the light

/// Centroid of the light on a plane. What comes nearly along the plane lands ever farther away, so that the plain mean over a
/// deep dish's light has no limit: one such path would move it. Light farther than ten times the distance that holds nine tenths
/// of it is left out.
Vector3 centre_without_strays(const std::vector<LitPlace>& light) {
  Vector3 middle;
  for (int axis = 0; axis < 3; ++axis) {
    std::vector<std::pair<double, double>> along;
    along.reserve(light.size());
    for (const LitPlace& one : light) along.emplace_back(one.place[axis], one.weight);
    middle[axis] = half_and_most(along).first;
  }
  std::vector<std::pair<double, double>> distances;
  distances.reserve(light.size());
  for (const LitPlace& one : light) distances.emplace_back((one.place - middle).norm(), one.weight);
  const double most = far_away * half_and_most(distances).second;
  return mean_place(light, [&](const LitPlace& one) { return (one.place - middle).norm() <= most; });
}

}  // namespace

Pilot::Pilot(const Scene& scene, const SurfaceList& list)
    : scene_(scene), list_(list), landed_(scene.targets.size()), crossed_(scene.targets.size()) {}

void Pilot::landed(int surface, const WeightedPoints& points) {
  auto& to = landed_[static_cast<std::size_t>(list_.surfaces[static_cast<std::size_t>(surface)].owner)];
  for (int i = 0; i < points.n; ++i) {
    if (points.weight[i] > 0) to.push_back({Vector3(points.x[i], points.y[i], points.z[i]), points.weight[i]});
  }
}

void Pilot::crossed(int target, const WeightedPoints& points) {
  auto& to = crossed_[static_cast<std::size_t>(target)];
  for (int i = 0; i < points.n; ++i) {
    if (points.weight[i] > 0) to.push_back({Vector3(points.x[i], points.y[i], 0), points.weight[i]});
  }
}

std::vector<TargetScale> Pilot::scales() const {
  std::vector<TargetScale> scales;
  for (std::size_t k = 0; k < scene_.targets.size(); ++k) scales.push_back(scale_of(k));
  return scales;
}

TargetScale Pilot::scale_of(std::size_t k) const {
  const TargetShape& shape = scene_.targets[k].shape;
  TargetScale aim;
  aim.scale = aim.r50 = aim.r90 = target_width(shape) / 2;
  const bool planar = is_plate(shape);
  const std::vector<LitPlace>& light = planar ? crossed_[k] : landed_[k];
  if (light.empty()) return aim;
  const Vector3 centre = planar ? centre_without_strays(light) : mean_place(light, [](const LitPlace&) { return true; });
  const bool band = planar && is_band(shape), tube = !planar && is_band(shape);
  std::vector<std::pair<double, double>> distances;
  distances.reserve(light.size());
  for (const LitPlace& point : light) {
    const Vector3 apart = point.place - centre;
    // Light runs along a trough's band or tube: only its spread across counts there.
    distances.emplace_back(band ? std::abs(apart.x()) : tube ? std::hypot(apart.x(), apart.z()) : apart.norm(), point.weight);
  }
  const auto [r50, r90] = half_and_most(distances);
  if (planar) {
    aim.centre_x = centre.x(), aim.centre_y = centre.y();
    aim.r50 = std::max(r50, 1e-12), aim.r90 = std::max(r90, 1e-12);
    aim.scale = std::clamp(r90, 1e-9, target_width(shape));
  }
  aim.window = peak_window(shape, landed_[k], 2 * r50);
  return aim;
}

}  // namespace dishwright
