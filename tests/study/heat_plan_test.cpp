// SPDX-License-Identifier: MIT
// The band of a warm-up against independent random draws, and the goal against the plan itself.
#include "study/heat_plan.h"

#include <algorithm>
#include <cmath>
#include <random>

#include "approx.h"
#include "scenes.h"

using namespace dishwright;
using namespace dishwright::test;
using testing::approx;

namespace {

Scene kettle_scene() {
  Reflector dish = mirror(dish_of(degrees(53)));
  dish.finish = "aluminised film", dish.reflectance = 0.86, dish.slope_error = 6e-3;
  Scene made = scene(limb_sun(), dish, target(PotTarget{0.25, 0.2}, {0, 0, 1}), 20'000);
  made.trace.method = Method::automatic;
  Load load;
  load.stuff = "water", load.mass = 5, load.vessel = "steel", load.vessel_mass = 1;
  load.wanted = 360, load.within = 900;
  made.load = load;
  return made;
}

/// Seconds by the sum of C dT / (taken in − lost) over 200 steps of temperature, without the integrator; infinite where it stops before.
double summed_time(const WarmUpTask& task) {
  double seconds = 0;
  const int steps = 200;
  const double step = (task.wanted - task.start) / steps;
  for (int k = 0; k < steps; ++k) {
    const double spare = task.absorbed - heat_losses(task.absorber, task.around, task.start + (k + 0.5) * step).total();
    if (spare <= 0) return 1e99;
    seconds += task.absorber.capacity * step / spare;
  }
  return seconds;
}

}  // namespace

TEST_CASE("the band of a warm-up is that of 3000 pseudo-random draws, summed without the integrator") {
  Watch watch;
  const HeatPlan plan = heat_plan(kettle_scene(), 1, watch);
  REQUIRE(plan.seconds.best.has_value());
  CHECK(*plan.seconds.best == approx(summed_time(plan.task)).epsilon(1e-4));
  CHECK(plan.task.absorbed == approx(0.96 * (plan.light.power + plan.light.direct)).epsilon(1e-12));
  std::mt19937_64 chance(12345);
  std::uniform_real_distribution<double> even(0, 1);
  std::vector<double> times;
  const HeatRanges& r = plan.ranges;
  for (int k = 0; k < 3000; ++k) {
    const auto within = [&](const HeatRanges::Span& span) { return span.low + even(chance) * (span.high - span.low); };
    WarmUpTask task = plan.task;
    const double share = within(r.beam) / r.beam.best * within(r.reflected) * within(r.absorptance);
    // The share left falls from 1 to left[1] to left[2] in two straight pieces.
    const double half = within(r.aim) / plan.light.angle[1];
    const auto& left = plan.light.left;
    task.absorbed = share * plan.light.power * (half < 1 ? 1 + half * (left[1] - 1) : left[1] + (half - 1) * (left[2] - left[1]));
    task.around.wind = within(r.wind), task.around.convection = within(r.convection);
    times.push_back(summed_time(task));
  }
  std::sort(times.begin(), times.end());
  // 256 spread points against 3000 random ones: their tenths differ by a few thousandths.
  CHECK(*plan.seconds.low == approx(times[300]).epsilon(0.01));
  CHECK(*plan.seconds.high == approx(times[2700]).epsilon(0.01));
  CHECK(*plan.seconds.low < *plan.seconds.best);
  CHECK(*plan.seconds.best < *plan.seconds.high);
  // Finish and skin as their rows have them: 0.83 to 0.88 of 0.86; 0.92 to 0.975.
  CHECK(r.reflected.low == approx(0.83 / 0.86).epsilon(1e-5));
  CHECK(r.absorptance.high == 0.975);
  CHECK(r.beam.low == approx(0.95 * plan.scene.sun.beam).epsilon(1e-12));
}

TEST_CASE("the goal: yes, no, too close to call; needed power and width do it") {
  Watch watch;
  Scene made = kettle_scene();
  const HeatPlan first = heat_plan(made, 1, watch);
  made.load->within = *first.seconds.high * 1.01;
  const HeatPlan easy = heat_plan(made, 1, watch);
  CHECK(easy.goal.holds.value_or(false));
  made.load->within = *first.seconds.low * 0.99;
  const HeatPlan hard = heat_plan(made, 1, watch);
  CHECK_FALSE(hard.goal.holds.value_or(true));
  made.load->within = *first.seconds.best;
  const HeatPlan close = heat_plan(made, 1, watch);
  CHECK_FALSE(close.goal.holds.has_value());
  CHECK(*close.goal.needed == approx(close.task.absorbed).epsilon(1e-5));
  CHECK(*close.goal.width == approx(rim_width(made.reflectors[0].shape)).epsilon(1e-5));
  CHECK(*hard.goal.width > *close.goal.width);
  WarmUpTask task = hard.task;
  task.absorbed = *hard.goal.needed;
  CHECK(summed_time(task) == approx(*hard.goal.within).epsilon(1e-4));
  // Nobody gets iron white-hot with it.
  made.load->stuff = "steel", made.load->wanted = 1700, made.load->within.reset();
  const HeatPlan never = heat_plan(made, 1, watch);
  CHECK(never.never == never.samples);
  CHECK_FALSE(never.goal.holds.value_or(true));
  CHECK_FALSE(never.seconds.best.has_value());
}
