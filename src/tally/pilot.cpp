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

double size_of(const TargetShape& shape) {
  return std::visit([](const auto& s) { return s.width; }, shape);
}

bool is_planar(const TargetShape& shape) {
  return std::holds_alternative<DiskTarget>(shape) || std::holds_alternative<RectangleTarget>(shape);
}

}  // namespace

Vector3 snap(const TargetShape& shape, const Vector3& point) {
  const auto to_radius = [](double x, double y, double radius) {
    const double r = std::hypot(x, y);
    return r > 0 ? radius / r : 0.0;
  };
  if (const auto* tube = std::get_if<TubeTarget>(&shape)) {
    const double scale = to_radius(point.x(), point.z(), tube->width / 2);
    return {point.x() * scale, point.y(), point.z() * scale};
  }
  if (const auto* ball = std::get_if<BallTarget>(&shape)) {
    return point.norm() > 0 ? Vector3(point * (ball->width / 2 / point.norm())) : point;
  }
  if (const auto* pot = std::get_if<PotTarget>(&shape)) {
    const double r = std::hypot(point.x(), point.y());
    // Base or side, whichever is nearer.
    if (std::abs(point.z()) <= std::abs(r - pot->width / 2)) return {point.x(), point.y(), 0};
    const double scale = to_radius(point.x(), point.y(), pot->width / 2);
    return {point.x() * scale, point.y() * scale, point.z()};
  }
  return {point.x(), point.y(), 0};
}

// Points are seen along the window's normal, so the place lies that way from the plane, not toward a body's middle.
SeenPlace seen_place(const TargetShape& shape, const PeakWindow& window, double along_across, double along_up) {
  const Vector3 flat = along_across * window.across + along_up * window.up;
  if (window.radius <= 0) return {snap(shape, window.middle + flat), 1};
  Vector3 round = flat;  // across a cylinder's axis
  if (std::holds_alternative<TubeTarget>(shape)) round.y() = 0;
  if (std::holds_alternative<PotTarget>(shape)) round.z() = 0;
  const double cosine = std::sqrt(std::max(0.0, 1 - round.squaredNorm() / (window.radius * window.radius)));
  return {snap(shape, window.middle + flat - (1 - cosine) * window.radius * window.across.cross(window.up)), cosine};
}

Pilot::Pilot(const Scene& scene, const PieceList& list)
    : scene_(scene), list_(list), landed_(scene.targets.size()), crossed_(scene.targets.size()) {}

void Pilot::landed(int piece, const WeightedPoints& points) {
  auto& to = landed_[static_cast<std::size_t>(list_.pieces[static_cast<std::size_t>(piece)].owner)];
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

std::vector<Aim> Pilot::aims() const {
  std::vector<Aim> aims;
  for (std::size_t k = 0; k < scene_.targets.size(); ++k) aims.push_back(aim_of(k));
  return aims;
}

Aim Pilot::aim_of(std::size_t k) const {
  const TargetShape& shape = scene_.targets[k].shape;
  Aim aim;
  aim.scale = aim.r50 = aim.r90 = size_of(shape) / 2;
  const bool planar = is_planar(shape);
  const std::vector<Point>& light = planar ? crossed_[k] : landed_[k];
  if (light.empty()) return aim;
  Vector3 centre = Vector3::Zero();
  double total = 0;
  for (const Point& point : light) {
    centre += point.weight * point.place;
    total += point.weight;
  }
  centre /= total;
  const bool band = std::holds_alternative<RectangleTarget>(shape), tube = std::holds_alternative<TubeTarget>(shape);
  std::vector<std::pair<double, double>> distances;
  distances.reserve(light.size());
  for (const Point& point : light) {
    const Vector3 apart = point.place - centre;
    // Light runs along a trough's band or tube: only its spread across counts there.
    distances.emplace_back(band ? std::abs(apart.x()) : tube ? std::hypot(apart.x(), apart.z()) : apart.norm(), point.weight);
  }
  const auto [r50, r90] = half_and_most(distances);
  if (planar) {
    aim.centre_x = centre.x(), aim.centre_y = centre.y();
    aim.r50 = std::max(r50, 1e-12), aim.r90 = std::max(r90, 1e-12);
    aim.scale = std::clamp(r90, 1e-9, size_of(shape));
  }
  aim.window = window_of(k, 2 * r50);
  return aim;
}

// The fullest cell of one disc's width, then the middle of the light in and near it.
PeakWindow Pilot::window_of(std::size_t k, double width_50) const {
  PeakWindow window;
  window.disc = width_50 / 10;
  const std::vector<Point>& light = landed_[k];
  if (light.empty() || window.disc < 1e-7) return window;
  // Cells by a mixed key; points of one cell stand together after sorting.
  const bool pot = std::holds_alternative<PotTarget>(scene_.targets[k].shape);
  const double on_base = base_slack * size_of(scene_.targets[k].shape);
  std::vector<std::pair<std::uint64_t, std::uint32_t>> cells;
  cells.reserve(light.size());
  for (std::size_t i = 0; i < light.size(); ++i) {
    std::uint64_t key = pot && light[i].place.z() > on_base ? 1 : 0;  // its faces are kept apart
    for (int axis = 0; axis < 3; ++axis) {
      key = mix_bits(key) + static_cast<std::uint64_t>(std::llround(light[i].place[axis] / window.disc));
    }
    cells.emplace_back(key, static_cast<std::uint32_t>(i));
  }
  std::sort(cells.begin(), cells.end());
  Vector3 middle = Vector3::Zero();
  double most = -1;
  for (std::size_t begin = 0, end = 0; begin < cells.size(); begin = end) {
    Vector3 sum = Vector3::Zero();
    double weight = 0;
    for (end = begin; end < cells.size() && cells[end].first == cells[begin].first; ++end) {
      const Point& point = light[cells[end].second];
      sum += point.weight * point.place;
      weight += point.weight;
    }
    if (weight > most) most = weight, middle = sum / weight;
  }
  const TargetShape& shape = scene_.targets[k].shape;
  window.any = true;
  window.middle = snap(shape, middle);
  Vector3 normal = Vector3::UnitZ();
  if (std::holds_alternative<TubeTarget>(shape)) normal = Vector3(window.middle.x(), 0, window.middle.z());
  if (std::holds_alternative<BallTarget>(shape)) normal = window.middle;
  if (pot && window.middle.z() > on_base) normal = Vector3(window.middle.x(), window.middle.y(), 0);
  if (normal != Vector3::UnitZ() && normal.norm() > 0) {
    normal.normalize();
    window.radius = size_of(shape) / 2;
    window.across = normal.unitOrthogonal();
    window.up = normal.cross(window.across);
  }
  return window;
}

}  // namespace dishwright
