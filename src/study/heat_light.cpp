// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <numbers>

#include "study/heat_plan.h"
#include "study/light_figures.h"

namespace dishwright {

namespace {

/// The scene with its sun moved by `further` toward the side `way`, both small angles [rad].
Scene aimed_off(Scene scene, double further, double way) {
  Sun& sun = scene.sun;
  const double x = sun.aim_error * std::cos(sun.aim_direction) + further * std::cos(way);
  const double y = sun.aim_error * std::sin(sun.aim_direction) + further * std::sin(way);
  sun.aim_error = std::hypot(x, y);
  sun.aim_direction = sun.aim_error > 0 ? std::atan2(y, x) : 0;
  return scene;
}

}  // namespace

double HeatLight::left_at(double further) const {
  for (std::size_t k = 1; k < angle.size(); ++k) {
    if (further > angle[k] && k + 1 < angle.size()) continue;
    return left[k - 1] + (left[k] - left[k - 1]) * (further - angle[k - 1]) / (angle[k] - angle[k - 1]);
  }
  return 1;
}

HeatLight heat_light(const Scene& scene, const TraceFigures& figures, int threads, const Watch& watch) {
  constexpr std::uint64_t most_paths = 32'768;
  constexpr double farthest = std::numbers::pi / 180, still = 1e-9;
  const std::size_t target = scene.load->target;
  HeatLight out;
  out.power = figures.targets[target].power.value, out.direct = figures.targets[target].direct_power.value;
  out.power_error = figures.targets[target].power.std_error;
  out.angle = {0, farthest / 2, farthest};
  Scene quick = scene;
  quick.trace.paths = std::min(quick.trace.paths, most_paths);
  quick.trace.accuracy.reset();
  quick.trace.method = Method::automatic;
  GeometryCache geometries;
  const auto power = [&](const Scene& one) {
    end_if_stopped(watch);
    Watch own;
    return light_figures(one, LightMap::none, threads, own, &geometries).targets[target].power.value;
  };
  const double true_power = power(quick);
  if (!(true_power > still)) return out;
  for (std::size_t k = 1; k < out.angle.size(); ++k) {
    double sum = 0;
    for (int way = 0; way < 4; ++way) sum += power(aimed_off(quick, out.angle[k], way * std::numbers::pi / 2));
    out.left[k] = sum / (4 * true_power);
  }
  return out;
}

HeatRanges heat_ranges(const Scene& scene, const TargetFigures& target) {
  const Load& load = *scene.load;
  HeatRanges out;
  const double beam = scene.sun.beam;
  out.clear_sky = scene.outdoors && scene.outdoors->clear_sky;
  const double hazier = out.clear_sky ? 0.90 : 0.95;
  out.beam = {hazier * beam, beam, 1.05 * beam};
  constexpr double breath = 0.5;  // no yard is calmer for long [m/s]
  out.wind = {load.wind / 2, load.wind, std::max(1.5 * load.wind, breath)};
  out.reflected = {1, 1, 1};
  out.has_finish = target.power_range.has_value();
  if (target.power_range && target.power.value > 0)
    out.reflected = {(*target.power_range)[0] / target.power.value, 1, (*target.power_range)[1] / target.power.value};
  out.aim = {0, 0, std::numbers::pi / 180};
  out.absorptance = {load.absorptance_low, load.absorptance, load.absorptance_high};
  out.convection = {0.8, 1, 1.2};
  return out;
}

}  // namespace dishwright
