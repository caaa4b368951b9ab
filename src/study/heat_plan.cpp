// SPDX-License-Identifier: MIT
#include "study/heat_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/sobol.h"
#include "scene/water.h"
#include "study/finish_range.h"
#include "study/light_figures.h"
#include "study/mirror_best.h"

namespace dishwright {

namespace {

constexpr double usual_span = 4.0 * 3600;  // that a warm-up is followed; the sun does not stand still longer [s]
constexpr int curve_steps = 240;
constexpr double tail = 0.1;  // of the samples lies below the band, and above it

using SixDraws = std::array<double, 6>;

/// The task of the project but for what is taken in and the air about it.
WarmUpTask plain_task(const Scene& scene) {
  const Load& load = *scene.load;
  WarmUpTask task;
  task.absorber = absorber_of(scene.targets[load.target], load);
  task.around = surroundings_of(load);
  task.start = load.start, task.wanted = load.wanted;
  if (boils(load)) task.boiling = boiling_point(load.pressure);
  task.longest = std::max(usual_span, 1.5 * load.within.value_or(0));
  return task;
}

/// A round step [s] for curves of 240 that show the whole of the warm-up, the goal and what was measured.
double curve_step(const WarmUpTask& best, const Load& load, double measured) {
  constexpr double margin = 1.6;
  const double reached = warm_up(best, false).seconds.value_or(best.longest / margin);
  const double span = std::min(best.longest, std::max(margin * std::max(reached, load.within.value_or(0)), 1.05 * measured));
  for (const double step : {1.0, 2.0, 3.0, 5.0, 6.0, 10.0, 15.0, 20.0, 30.0, 60.0}) {
    if (step * curve_steps >= span) return std::min(step, best.longest / curve_steps);
  }
  return best.longest / curve_steps;
}

/// Evenly spread in six dimensions, by the scene's seed.
std::vector<SixDraws> spread_draws(std::uint64_t seed) {
  DrawBlock block;
  SobolReplicate(seed, 0).fill(0, 0, 6, block);
  std::vector<SixDraws> out(heat_samples);
  for (std::size_t k = 0; k < out.size(); ++k) {
    for (std::size_t d = 0; d < 6; ++d) out[k][d] = static_cast<double>(block[d][k]);
  }
  return out;
}

/// The value below which that share of the sorted values lies, between neighbours; infinite values last.
double share_below(const std::vector<double>& sorted, double share) {
  const double at = share * static_cast<double>(sorted.size() - 1);
  const auto k = static_cast<std::size_t>(at);
  if (k + 1 >= sorted.size() || sorted[k + 1] == sorted[k]) return sorted[k];
  if (!std::isfinite(sorted[k + 1])) return at > static_cast<double>(k) ? sorted[k + 1] : sorted[k];
  return sorted[k] + (at - static_cast<double>(k)) * (sorted[k + 1] - sorted[k]);
}

std::optional<double> if_finite(double value) { return std::isfinite(value) ? std::optional(value) : std::nullopt; }

/// Never narrower than to the project itself.
HeatBand band_of(std::vector<double> values, std::optional<double> best) {
  std::sort(values.begin(), values.end());
  HeatBand out{if_finite(share_below(values, tail)), best, if_finite(share_below(values, 1 - tail))};
  if (best && (!out.low || *best < *out.low)) out.low = best;
  if (best && out.high && *best > *out.high) out.high = best;
  if (!best) out.high.reset();
  return out;
}

void add_band(HeatPlan& plan) {
  constexpr double never = std::numeric_limits<double>::infinity();
  const Scene& scene = plan.scene;
  const Absorber empty = empty_absorber(scene.targets[scene.load->target], *scene.load);
  std::vector<double> powers, seconds, stagnations;
  std::vector<std::vector<double>> at(curve_steps + 1);
  int in_time = 0;
  for (const SixDraws& draw : spread_draws(scene.trace.seed)) {
    WarmUpTask task = heat_task(scene, plan.light, plan.ranges, draw);
    task.step = plan.task.step, task.steps = plan.task.steps;
    const WarmUp found = warm_up(task);
    powers.push_back(task.absorbed);
    seconds.push_back(found.seconds.value_or(never));
    stagnations.push_back(stagnation_temperature(empty, task.around, task.absorbed));
    for (std::size_t k = 0; k < at.size(); ++k) at[k].push_back(found.temperature[k]);
    if (!found.seconds) ++plan.never;
    if (found.seconds.value_or(never) <= scene.load->within.value_or(plan.longest)) ++in_time;
  }
  const WarmUp best = warm_up(plan.task);
  plan.best = best.temperature;
  plan.samples = static_cast<int>(powers.size());
  plan.power = band_of(powers, plan.task.absorbed);
  plan.seconds = band_of(seconds, best.seconds);
  plan.stagnation = band_of(stagnations, stagnation_temperature(empty, plan.task.around, plan.task.absorbed));
  for (std::size_t k = 0; k < at.size(); ++k) {
    const HeatBand band = band_of(at[k], plan.best[k]);
    plan.low.push_back(*band.low), plan.high.push_back(*band.high);
  }
  plan.goal.in_time = in_time / static_cast<double>(plan.samples);
}

bool is_trough_like(const ReflectorShape& shape) {
  return std::holds_alternative<Trough>(shape) || std::holds_alternative<ArcTrough>(shape);
}

void add_goal(HeatPlan& plan) {
  const Scene& scene = plan.scene;
  HeatGoal& goal = plan.goal;
  goal.within = scene.load->within;
  if (goal.in_time >= 1 - tail) goal.holds = true;
  if (goal.in_time <= tail) goal.holds = false;
  goal.needed = goal.within ? power_for(plan.task, *goal.within) : std::max(0.0, plan.at_wanted.total());
  if (scene.reflectors.size() != 1 || !(plan.light.power > 0)) return;
  const ReflectorShape& mirror = scene.reflectors.front().shape;
  goal.width_now = rim_width(mirror);
  goal.by_width = is_trough_like(mirror);
  // What comes straight from the sun does not grow with the mirror.
  const double straight = scene.load->absorptance * plan.light.direct;
  const double ratio = std::max(0.0, *goal.needed - straight) / (plan.task.absorbed - straight);
  goal.width = goal.width_now * (goal.by_width ? ratio : std::sqrt(ratio));
}

}  // namespace

WarmUpTask best_heat_task(const Scene& scene, const HeatLight& light) {
  WarmUpTask task = plain_task(scene);
  task.absorbed = scene.load->absorptance * (light.power + light.direct);
  return task;
}

WarmUpTask heat_task(const Scene& scene, const HeatLight& light, const HeatRanges& ranges, const SixDraws& draw) {
  const HeatRanges::Span spans[] = {ranges.beam, ranges.wind,        ranges.reflected,
                                    ranges.aim,  ranges.absorptance, ranges.convection};
  SixDraws value{};
  for (std::size_t k = 0; k < value.size(); ++k) value[k] = spans[k].low + draw[k] * (spans[k].high - spans[k].low);
  WarmUpTask task = plain_task(scene);
  task.around.wind = value[1], task.around.convection = value[5];
  const double by_mirror = light.power * value[2] * light.left_at(value[3]);
  task.absorbed = value[4] * value[0] / ranges.beam.best * (by_mirror + light.direct);
  return task;
}

HeatPlan heat_plan(const Scene& scene, int threads, Watch& watch, double measured) {
  HeatPlan plan;
  plan.scene = scene;
  const std::size_t target = scene.load->target;
  plan.figures = light_figures(scene, LightMap::none, threads, watch);
  add_finish_range(scene, threads, watch, plan.figures);
  plan.figures.mirror_best = mirror_best(scene, threads, watch);
  plan.light = heat_light(scene, plan.figures, threads, watch);
  plan.ranges = heat_ranges(scene, plan.figures.targets[target]);
  plan.task = best_heat_task(scene, plan.light);
  plan.task.steps = curve_steps, plan.task.step = curve_step(plan.task, *scene.load, measured);
  plan.step = plan.task.step, plan.longest = plan.task.longest;
  if (plan.light.power_error) plan.power_error = scene.load->absorptance * *plan.light.power_error;
  plan.at_wanted = heat_losses(plan.task.absorber, plan.task.around, plan.task.wanted);
  plan.steam = steam_rate(plan.task);
  end_if_stopped(watch);
  add_band(plan);
  add_goal(plan);
  return plan;
}

}  // namespace dishwright
