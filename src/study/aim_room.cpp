// SPDX-License-Identifier: MIT
#include "study/aim_room.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/estimate.h"
#include "study/light_figures.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double lowest_sun = 80 * pi / 180;  // lean from the axis beyond which nothing is tried [rad]

Estimate scaled(Estimate estimate, double by) {
  estimate.value *= by;
  if (estimate.std_error) *estimate.std_error *= by;
  for (double& value : estimate.without_one) value *= by;
  return estimate;
}

/// The sun, `angle` away from where it stands; way 0 is on from the axis, or own x of a sun on the axis.
Sun moved(Sun sun, double angle, double way) {
  const Vector3 from = sun.direction();
  const double side = sun.aim_error > 0 ? sun.aim_direction : 0;
  const Vector3 round(-std::sin(side), std::cos(side), 0), on = round.cross(from);
  const Vector3 to = std::cos(angle) * from + std::sin(angle) * (std::cos(way) * on + std::sin(way) * round);
  const double out = std::hypot(to.x(), to.y());
  sun.aim_error = std::atan2(out, to.z());
  sun.aim_direction = out > 0 ? std::atan2(to.y(), to.x()) : 0;
  return sun;
}

class RoomSearch {
 public:
  RoomSearch(const Scene& scene, std::size_t target, double kept, int threads, Watch& watch)
      : scene_(scene), target_(target), threads_(threads), watch_(watch) {
    scene_.trace.accuracy.reset();
    least_ = scaled(share(scene_.sun), kept);
  }

  std::optional<AimRoom> found() {
    if (!(least_.value > 2 * least_.std_error.value_or(0))) return std::nullopt;
    room_ = {std::min(widest_aim_room, std::max(0.0, lowest_sun - scene_.sun.aim_error)), 0, true};
    constexpr int ways = 8;
    for (int k = 0; k < ways; ++k) look(2 * pi * k / ways);
    for (double step = pi / ways; step > 6 * pi / 180; step /= 2) {
      const double worst = way_;
      look(worst - step), look(worst + step);
    }
    const Sun there = moved(scene_.sun, std::max(room_.angle, 1e-6), way_), here = scene_.sun;
    const Vector3 toward = there.direction() - here.direction();
    room_.direction = std::atan2(toward.y(), toward.x());
    return room_;
  }

 private:
  /// Caught of the mirrors' light; 0 where they have none.
  Estimate share(const Sun& sun) {
    Scene scene = scene_;
    scene.sun = sun;
    const TraceFigures figures = light_figures(std::move(scene), LightMap::none, threads_, watch_, &geometries_);
    return figures.targets[target_].intercept.value_or(Estimate{});
  }
  bool keeps(double angle, double way) {
    const Estimate more = difference(share(moved(scene_.sun, angle, way)), least_);
    return more.value >= 2 * more.std_error.value_or(0);
  }

  /// Makes the circle smaller where the light goes earlier in this way.
  void look(double way) {
    constexpr int steps = 3;
    for (int k = 1; k <= steps; ++k) {
      double low = room_.angle * (k - 1) / steps, high = room_.angle * k / steps;
      if (keeps(high, way)) continue;
      while (high - low > 0.01 * high && high > 1e-6) {
        const double middle = (low + high) / 2;
        (keeps(middle, way) ? low : high) = middle;
      }
      room_.angle = low, room_.open = false, way_ = way;
      return;
    }
  }

  Scene scene_;
  std::size_t target_;
  int threads_;
  Watch& watch_;
  GeometryCache geometries_;
  Estimate least_;
  AimRoom room_;
  double way_ = 0;
};

}  // namespace

std::optional<AimRoom> aim_room(const Scene& scene, std::size_t target, double kept, int threads, Watch& watch) {
  return RoomSearch(scene, target, kept, threads, watch).found();
}

double seconds_within(const AimRoom& room) {
  constexpr double turn = 2 * pi / 86400, drift = 23.44 * pi / 180 * 2 * pi / (365.24 * 86400);  // [rad/s]
  return room.angle / (turn + drift);
}

}  // namespace dishwright
