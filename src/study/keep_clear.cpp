// SPDX-License-Identifier: MIT
#include "study/keep_clear.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "result/heat_levels.h"
#include "study/fan_plane.h"

namespace dishwright {

namespace {

constexpr int rays = 900, planes = 32;
constexpr double first_step = 0.02, farthest = 100;  // of the mirrors' size
constexpr int most_halvings = 12;
constexpr double near_enough = 4e-3;  // of an end, of the mirrors' size
constexpr double rounding = 2e-3;     // a perfect plane gives just one sun

class Field {
 public:
  Field(const Scene& scene, const SceneGeometry& geometry, const Watch& watch)
      : fan_(light_fan(scene, geometry, rays)), vertex_(scene.reflectors.front().pose.at), watch_(watch) {
    levels_ = {scene.sun.beam, pain_level, burn_level, ignition_level};
    for (const Beamlet& beam : fan_.beams) {
      low_ = std::min(low_, height(beam.from)), high_ = std::max(high_, height(beam.from));
      downward_ = downward_ || beam.along.z() < 0;
    }
  }
  bool empty() const { return fan_.power <= 0; }

  KeepClear find() {
    look_away(low_, 1);
    if (downward_) look_away(high_, -1);
    // Evenly between the planes that are bright, then the ends.
    const auto [first, last] = bright_range();
    if (first < last) {
      const double room = (last - first) / planes;
      for (int k = -1; k <= planes + 1; ++k) look(first + room * k);
    }
    KeepClear found;
    found.beam = levels_[0];
    for (std::size_t k = 0; k < levels_.size(); ++k) found.levels.push_back(level(k));
    return found;
  }

 private:
  using Boxes = std::array<std::optional<PlaneBox>, 4>;

  double height(const Vector3& at) const { return at.z() - vertex_.z(); }

  const Boxes& look(double along) {
    const auto known = planes_.find(along);
    if (known != planes_.end()) return known->second;
    end_if_stopped(watch_);
    const FanPlane plane{vertex_ + along * Vector3::UnitZ(), Vector3::UnitZ(), Vector3::UnitX(), true, true};
    const FanGrid grid(fan_, plane);
    Boxes boxes;
    for (std::size_t k = 0; k < boxes.size(); ++k) boxes[k] = grid.brighter_than(levels_[k] * (1 + rounding));
    return planes_.emplace(along, boxes).first->second;
  }

  /// Planes at even ratios of distance, away from the mirrors.
  void look_away(double from, int way) {
    constexpr double ratio = 1.5;
    for (double step = first_step; step < farthest * ratio; step *= ratio) look(from + way * step * fan_.size);
    look(from);
  }

  /// Between which planes any level is passed.
  std::pair<double, double> bright_range() const {
    double first = 1, last = 0;
    for (const auto& [along, boxes] : planes_) {
      if (std::none_of(boxes.begin(), boxes.end(), [](const auto& box) { return box.has_value(); })) continue;
      if (first > last) first = along;
      last = along;
    }
    return {first, last};
  }

  /// Halves between the outermost bright plane and its dim neighbour; gives the dim one, which is on the safe side.
  double end_beyond(std::size_t k, bool far) {
    const auto bright_at = [k](const auto& plane) { return plane.second[k].has_value(); };
    double bright = 0, dim = 0;
    if (far) {
      const auto last = std::find_if(planes_.rbegin(), planes_.rend(), bright_at);
      if (last == planes_.rbegin()) return last->first;
      bright = last->first, dim = std::prev(last)->first;
    } else {
      const auto first = std::find_if(planes_.begin(), planes_.end(), bright_at);
      if (first == planes_.begin()) return first->first;
      bright = first->first, dim = std::prev(first)->first;
    }
    for (int step = 0; step < most_halvings && std::abs(bright - dim) > near_enough * fan_.size; ++step) {
      const double middle = (bright + dim) / 2;
      (look(middle)[k] ? bright : dim) = middle;
    }
    return dim;
  }

  KeepClearLevel level(std::size_t k) {
    KeepClearLevel out;
    out.level = levels_[k];
    if (std::none_of(planes_.begin(), planes_.end(), [k](const auto& plane) { return plane.second[k].has_value(); })) return out;
    out.from = end_beyond(k, false), out.to = end_beyond(k, true);
    out.open = planes_.rbegin()->second[k].has_value();
    for (const auto& [along, boxes] : planes_) {
      if (!boxes[k]) continue;
      const PlaneBox& box = *boxes[k];
      out.slices.push_back({along, box.low_x, box.high_x, box.low_y, box.high_y});
      out.half_width_x = std::max({out.half_width_x, -box.low_x, box.high_x});
      out.half_width_y = std::max({out.half_width_y, -box.low_y, box.high_y});
    }
    return out;
  }

  LightFan fan_;
  Vector3 vertex_;
  const Watch& watch_;
  std::array<double, 4> levels_{};
  double low_ = 1e30, high_ = -1e30;  // of the mirrors, along z from the vertex [m]
  bool downward_ = false;
  std::map<double, Boxes> planes_;
};

}  // namespace

std::optional<KeepClear> keep_clear(const Scene& scene, const Watch& watch) {
  if (scene.is_wave() || scene.lamp) return std::nullopt;
  Scene bare = scene;
  bare.targets.clear();
  const SceneGeometry geometry(bare);
  Field field(bare, geometry, watch);
  if (field.empty()) return std::nullopt;
  return field.find();
}

}  // namespace dishwright
