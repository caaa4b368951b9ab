// SPDX-License-Identifier: MIT
#include "heat/warm_up.h"

#include <algorithm>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <limits>

#include "scene/water.h"

namespace dishwright {

namespace {

/// When a rising temperature passes `level` within a step of the integration [s].
template <class Stepper>
double passing_time(const Stepper& stepper, double level) {
  double from = stepper.previous_time(), to = stepper.current_time();
  for (int k = 0; k < 60 && to - from > 1e-9 * to; ++k) {
    const double middle = (from + to) / 2;
    double there = 0;
    stepper.calc_state(middle, there);
    (there >= level ? to : from) = middle;
  }
  return to;
}

}  // namespace

WarmUp warm_up(const WarmUpTask& task, bool curve) {
  using boost::numeric::odeint::make_dense_output;
  using boost::numeric::odeint::runge_kutta_dopri5;
  constexpr double tolerance = 1e-6, first_step = 1;  // [1], [s]
  constexpr double hottest = 3000;                    // the air's formulas end there [K]
  const auto slope = [&](const double& temperature, double& out, double /*time*/) {
    const double there = std::clamp(temperature, 200.0, hottest);
    out = (task.absorbed - heat_losses(task.absorber, task.around, there).total()) / task.absorber.capacity;
  };
  auto stepper = make_dense_output(tolerance, tolerance, runge_kutta_dopri5<double>());
  stepper.initialize(task.start, 0.0, first_step);
  WarmUp out;
  out.temperature.push_back(task.start);
  const auto all = static_cast<std::size_t>(task.steps) + 1;
  while (stepper.current_time() < task.longest && (!out.seconds || out.temperature.size() < all)) {
    stepper.do_step(slope);
    const double reached = stepper.current_state();
    const double until = task.boiling && reached >= *task.boiling ? passing_time(stepper, *task.boiling) : stepper.current_time();
    if (!out.seconds && reached >= task.wanted) {
      const double at = passing_time(stepper, task.wanted);
      if (at <= task.longest) out.seconds = at;
      if (!curve) return out;
    }
    for (double t = task.step * static_cast<double>(out.temperature.size()); t <= until && out.temperature.size() < all;
         t += task.step) {
      double there = 0;
      stepper.calc_state(t, there);
      out.temperature.push_back(there);
    }
    if (until < stepper.current_time()) break;
  }
  // Boiling water stays where it is.
  out.temperature.resize(all, task.boiling.value_or(out.temperature.back()));
  return out;
}

double power_for(WarmUpTask task, double seconds) {
  task.longest = 2 * seconds;
  // At least what the rise itself takes; more than that and what is lost at the end is enough.
  double low = task.absorber.capacity * (task.wanted - task.start) / seconds;
  double high = low + std::max(0.0, heat_losses(task.absorber, task.around, task.wanted).total());
  if (task.around.temperature > task.start) low = 0;
  for (int k = 0; k < 60 && high - low > 1e-6 * high; ++k) {
    task.absorbed = (low + high) / 2;
    const auto needed = warm_up(task, false).seconds;
    (needed && *needed <= seconds ? high : low) = task.absorbed;
  }
  return high;
}

double steam_rate(const WarmUpTask& task) {
  if (!task.boiling) return 0;
  const double spare = task.absorbed - heat_losses(task.absorber, task.around, *task.boiling).total();
  return std::max(0.0, spare) / heat_of_steam(*task.boiling);
}

}  // namespace dishwright
