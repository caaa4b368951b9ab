// SPDX-License-Identifier: MIT
#include "study/re_aim.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "study/light_figures.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi, degree = pi / 180;

Estimate scaled(Estimate estimate, double by) {
  estimate.value *= by;
  if (estimate.std_error) *estimate.std_error *= by;
  for (double& value : estimate.without_one) value *= by;
  return estimate;
}

class ReAimSearch {
 public:
  ReAimSearch(const Scene& scene, std::size_t target, double kept, int threads, Watch& watch)
      : scene_(scene), outdoors_(*scene.outdoors), target_(target), threads_(threads), watch_(watch) {
    scene_.trace.accuracy.reset();
    outdoors_.mount.elevation.reset(), outdoors_.mount.azimuth.reset();
    outdoors_.mount.aimed = outdoors_.time;
    outdoors_.aimed_at = outdoors_.sun;
    outdoors_.set_error = outdoors_.set_direction = 0;
    found_.kept = kept;
  }

  std::optional<ReAim> found() {
    axis_ = sun_in_frame(outdoors_, outdoors_.sun);
    found_.share = share(axis_);
    if (!(found_.share.value > 2 * found_.share.std_error.value_or(0))) return std::nullopt;
    least_ = scaled(found_.share, found_.kept);
    const auto [seconds, open] = room(1);
    const auto [before, open_before] = room(-1);
    found_.seconds = seconds, found_.open = open, found_.before = before, found_.open_before = open_before;
    const Vector3 there = toward(seconds);
    found_.drift = std::atan2(there.cross(axis_).norm(), there.dot(axis_));
    by_angle();
    found_.share.without_one.clear();
    return found_;
  }

 private:
  SunPlace sun_at(double seconds) const { return sun_place(later(outdoors_.time, seconds), outdoors_.site, outdoors_.air); }
  Vector3 toward(double seconds) const { return sun_in_frame(outdoors_, sun_at(seconds)); }
  Estimate share(const Vector3& sun) {
    Scene scene = scene_;
    set_direction(scene.sun, sun);
    const TraceFigures figures = light_figures(std::move(scene), LightMap::none, threads_, watch_, &geometries_);
    return figures.targets[target_].intercept.value_or(Estimate{});
  }
  bool keeps(double seconds) {
    const SunPlace sun = sun_at(seconds);
    const Vector3 own = sun_in_frame(outdoors_, sun);
    if (sun.apparent_elevation <= 0 || own.z() < std::cos(80 * degree)) return false;
    const Estimate more = difference(share(own), least_);
    return more.value >= -1e-12 && more.value >= 2 * more.std_error.value_or(0);
  }

  /// How long the light stays, the sun going on (way 1) or back (way -1); whether it is still there at the end.
  std::pair<double, bool> room(double way) {
    double low = 0, high = 15;
    while (high < longest_re_aim && keeps(way * high)) low = high, high *= 2;
    high = std::min(high, longest_re_aim);
    if (low < high && keeps(way * high)) return {high, true};
    while (high - low > 0.01 * high && high - low > 0.5) {
      const double middle = (low + high) / 2;
      (keeps(way * middle) ? low : high) = middle;
    }
    const bool set = sun_at(way * high).apparent_elevation <= 0;
    return {low, set};
  }

  /// The worst of four ways at each angle.
  void by_angle() {
    constexpr double step = degree / 2, widest = 20 * degree;
    // Across and along, where the mirror is a trough.
    const Vector3 x = (Vector3::UnitX() - axis_.x() * axis_).normalized(), y = axis_.cross(x);
    found_.by_angle.push_back({0, 1});
    for (double angle = step; angle <= widest * (1 + 1e-9); angle += step * (angle < 5 * degree ? 1 : 2)) {
      double worst = 1;
      for (int k = 0; k < 4; ++k) {
        const double way = pi / 2 * k;
        const Vector3 sun = std::cos(angle) * axis_ + std::sin(angle) * (std::cos(way) * x + std::sin(way) * y);
        worst = std::min(worst, share(sun).value / found_.share.value);
      }
      found_.by_angle.push_back({angle, worst});
      if (worst < 0.1) break;
    }
  }

  Scene scene_;
  Outdoors outdoors_;
  std::size_t target_;
  int threads_;
  Watch& watch_;
  GeometryCache geometries_;
  Vector3 axis_ = Vector3::UnitZ();
  Estimate least_;
  ReAim found_;
};

}  // namespace

std::optional<ReAim> re_aim(const Scene& scene, std::size_t target, double kept, int threads, Watch& watch) {
  return ReAimSearch(scene, target, kept, threads, watch).found();
}

}  // namespace dishwright
