// SPDX-License-Identifier: MIT
#include "tally/pilot.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <utility>

#include "base/sobol.h"
#include "tally/weighted_place.h"

namespace dishwright {

namespace {

/// Distances that hold half and nine tenths of the weight.
std::pair<double, double> half_and_most(std::vector<std::pair<double, double>> distance_weight) {
  double total = 0;
  for (const auto& [distance, weight] : distance_weight) total += weight;
  const WeightedPlace half = place_of_weight(distance_weight, 0, 0, 0.5 * total);
  return {half.value, place_of_weight(distance_weight, half.at, half.before, 0.9 * total).value};
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

/// Distances from a centre, as measured by `size`, that hold half and nine tenths of the light.
template <typename Size>
std::pair<double, double> half_and_most(const std::vector<LitPlace>& light, const Size& size, const Vector3& centre) {
  std::vector<std::pair<double, double>> distances;
  distances.reserve(light.size());
  for (const LitPlace& one : light) distances.emplace_back(size(one.place - centre), one.weight);
  return half_and_most(std::move(distances));
}

constexpr std::size_t usual_paths = 32768;
constexpr double far_away = 10;  // radii that hold nine tenths of the light

/// Centroid of the light on a plane. What comes nearly along the plane lands ever farther away, so that the plain mean over a
/// deep dish's light has no limit: one such path would move it. Light farther than ten times the distance that holds nine tenths
/// of it is left out.
Vector3 centre_without_strays(const std::vector<LitPlace>& light) {
  Vector3 middle = Vector3::Zero();
  for (int axis = 0; axis < 2; ++axis) {  // all lie at z = 0
    std::vector<std::pair<double, double>> along;
    along.reserve(light.size());
    for (const LitPlace& one : light) along.emplace_back(one.place[axis], one.weight);
    middle[axis] = half_and_most(std::move(along)).first;
  }
  const double most = far_away * half_and_most(
                                     light, [](const Vector3& apart) { return apart.norm(); }, middle)
                                     .second;
  return mean_place(light, [&](const LitPlace& one) { return (one.place - middle).norm() <= most; });
}

}  // namespace

Pilot::Pilot(const Scene& scene, const SurfaceList& list)
    : scene_(scene), list_(list), landed_(scene.targets.size()), crossed_(scene.targets.size()) {}

void Pilot::landed(int surface, const WeightedPoints& points) {
  auto& to = landed_[static_cast<std::size_t>(list_.surfaces[static_cast<std::size_t>(surface)].owner)];
  if (to.capacity() == 0) to.reserve(usual_paths);
  for (int i = 0; i < points.n; ++i) {
    if (points.weight[i] > 0) to.push_back({Vector3(points.x[i], points.y[i], points.z[i]), points.weight[i]});
  }
}

void Pilot::crossed(int target, const WeightedPoints& points) {
  auto& to = crossed_[static_cast<std::size_t>(target)];
  if (to.capacity() == 0) to.reserve(usual_paths);
  for (int i = 0; i < points.n; ++i) {
    if (points.weight[i] > 0) to.push_back({Vector3(points.x[i], points.y[i], 0), points.weight[i]});
  }
}

std::vector<TargetScale> Pilot::scales() const {
  std::vector<TargetScale> scales;
  for (std::size_t k = 0; k < scene_.targets.size(); ++k) scales.push_back(scale_of(k));
  return scales;
}

// Centre and size of all light on the plane that spot sizes are measured on; half the light lies within the distance returned.
double Pilot::measure_plane(std::size_t k, TargetScale& aim) const {
  const TargetShape& shape = scene_.targets[k].shape;
  const Vector3 centre = centre_without_strays(crossed_[k]);
  // Light runs along a trough's band: only its spread across counts there.
  const bool band = is_band(shape);
  const auto [r50, r90] = half_and_most(
      crossed_[k], [&](const Vector3& apart) { return band ? std::abs(apart.x()) : apart.norm(); }, centre);
  aim.centre_x = centre.x(), aim.centre_y = centre.y();
  aim.r50 = std::max(r50, 1e-12), aim.r90 = std::max(r90, 1e-12);
  aim.scale = std::clamp(r90, 1e-9, target_width(shape));
  return r50;
}

TargetScale Pilot::scale_of(std::size_t k) const {
  const TargetShape& shape = scene_.targets[k].shape;
  TargetScale aim;
  aim.scale = aim.r50 = aim.r90 = target_width(shape) / 2;
  double half = 0;
  if (has_spot_plane(shape) && !crossed_[k].empty()) half = measure_plane(k, aim);
  if (!is_plate(shape)) {
    const std::vector<LitPlace>& light = landed_[k];
    if (light.empty()) return aim;
    // Light runs along a tube: only its spread across counts there.
    const bool tube = is_band(shape);
    const Vector3 centre = mean_place(light, [](const LitPlace&) { return true; });
    half = half_and_most(
               light, [&](const Vector3& apart) { return tube ? std::hypot(apart.x(), apart.z()) : apart.norm(); }, centre)
               .first;
  }
  if (!crossed_[k].empty() || !landed_[k].empty()) aim.window = peak_window(shape, landed_[k], 2 * half);
  return aim;
}

}  // namespace dishwright
