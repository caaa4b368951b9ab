// SPDX-License-Identifier: MIT
#include "study/burn_track.h"

#include <cmath>

#include "base/threads.h"
#include "study/fan_plane.h"

namespace dishwright {

namespace {

constexpr int rays = 400;
constexpr double nearest = 0.05, farthest = 10, ratio = 1.3;  // of planes from the mirror, in its size
constexpr int closer_planes = 5, closer_passes = 3;
constexpr double least_rise = 0.01;  // sine of the sun over the mirror's plane

class Yard {
 public:
  Yard(const Scene& scene, const ParkedDish& parked) : parked_(parked), vertex_(scene.reflectors.front().pose.at) {
    ground_ = wall(Vector3::UnitZ(), -parked.height);
    free_.push_back(ground_);
    if (!parked.roof) return;
    free_.push_back(wall(-Vector3::UnitZ(), -*parked.roof));
    for (const Vector3& side : sides()) free_.push_back(wall(-side, -parked.wall));
  }

  BurnStep step(Scene scene, const SceneGeometry& geometry, const SunStep& sun) const {
    BurnStep out;
    out.sun = sun;
    const Vector3 toward = parked_.axes.transpose() * sun.toward;
    out.behind = toward.z() < least_rise;
    if (out.behind || sun.beam <= 0 || sun.toward.z() <= 0) return out;
    set_direction(scene.sun, toward);
    scene.sun.beam = sun.beam;
    const LightFan fan = light_fan(scene, geometry, rays);
    if (fan.power <= 0 || fan.along.norm() < 0.5) return out;
    out.spot = brightest_place(fan, scene.sun);
    out.ground = on_face(fan, scene.sun, -Vector3::UnitZ(), parked_.height);
    for (std::size_t k = 0; k < out.walls.size(); ++k) out.walls[k] = on_face(fan, scene.sun, sides()[k], parked_.wall);
    if (parked_.roof) out.roof = on_face(fan, scene.sun, Vector3::UnitZ(), *parked_.roof);
    return out;
  }

 private:
  static std::array<Vector3, 4> sides() { return {Vector3::UnitY(), Vector3::UnitX(), -Vector3::UnitY(), -Vector3::UnitX()}; }
  /// Earth axes, about the vertex, into the frame.
  FanWall wall(const Vector3& inward, double level) const {
    const Vector3 own = parked_.axes.transpose() * inward;
    return {own, level + own.dot(vertex_)};
  }
  BurnSpot on_earth(const PlaneLight& light) const {
    if (light.irradiance <= 0) return {};
    return {light.irradiance, parked_.axes * (light.at - vertex_)};
  }

  /// The brightest place of a flat face `away` from the vertex in the direction `outward` (earth axes), where it is in the open.
  BurnSpot on_face(const LightFan& fan, const Sun& sun, const Vector3& outward, double away) const {
    const Vector3 normal = parked_.axes.transpose() * outward;
    std::vector<FanWall> others;
    for (const FanWall& one : free_) {
      if (one.inward.dot(normal) > -0.5) others.push_back(one);
    }
    return on_earth(brightest_on_plane(fan, plane_across(fan, vertex_ + away * normal, normal), others, &sun));
  }

  BurnSpot brightest_place(const LightFan& fan, const Sun& sun) const {
    const auto plane = [&](double away) { return plane_across(fan, fan.middle + away * fan.along, fan.along); };
    double best = 0, where = 0, step = ratio;
    const auto look = [&](double away) {
      const double here = FanGrid(fan, plane(away), free_).brightest().irradiance;
      if (here > best) best = here, where = away;
    };
    for (double away = nearest; away < farthest; away *= ratio) look(away * fan.size);
    if (best <= 0) return {};
    for (int pass = 0; pass < closer_passes; ++pass) {
      const double middle = where, low = middle / step, finer = std::pow(step, 2.0 / (closer_planes + 1));
      best = 0;
      double away = low;
      for (int k = 0; k < closer_planes; ++k) {
        away *= finer;
        const double here = brightest_on_plane(fan, plane(away), free_, &sun).irradiance;
        if (here > best) best = here, where = away;
      }
      if (best <= 0) return {};
      step = finer;
    }
    return on_earth(brightest_on_plane(fan, plane(where), free_, &sun));
  }

  ParkedDish parked_;
  Vector3 vertex_;
  FanWall ground_;
  std::vector<FanWall> free_;  // what ends the light
};

}  // namespace

std::vector<BurnStep> burn_track(const Scene& scene, const ParkedDish& parked, const std::vector<SunStep>& suns, int threads,
                                 const Watch& watch) {
  if (scene.is_wave() || scene.lamp) return {};
  Scene bare = scene;
  bare.targets.clear();
  bare.sun.aim_error = 0;
  const SceneGeometry geometry(bare);
  const Yard yard(bare, parked);
  std::vector<BurnStep> steps(suns.size());
  on_threads(threads, [&] {
    for_each_number(0, suns.size(), [&](std::size_t k) {
      if (!watch.stopped()) steps[k] = yard.step(bare, geometry, suns[k]);
    });
  });
  end_if_stopped(watch);
  return steps;
}

}  // namespace dishwright
