// SPDX-License-Identifier: MIT
// How the temperature of a load rises in the light.
#pragma once

#include <optional>
#include <vector>

#include "heat/absorber.h"

namespace dishwright {

/// A load in light that stays as it is.
struct WarmUpTask {
  Absorber absorber;
  Surroundings around;
  double absorbed = 0;            ///< [W]
  double start = 0, wanted = 0;   ///< [K], wanted > start
  std::optional<double> boiling;  ///< where it stays, and the rest becomes steam [K]
  double longest = 4 * 3600;      ///< how far it is followed [s]
  double step = 60;               ///< of the curve [s]
  int steps = 240;                ///< of the curve; step × steps <= longest
};

struct WarmUp {
  std::optional<double> seconds;    ///< to the wanted temperature; empty where it is not reached in `longest` [s]
  std::vector<double> temperature;  ///< at 0, step, 2 step … [K]; steps + 1 of them
};

/// Integrates C dT/dt = absorbed − losses(T) by Dormand and Prince's method with dense output (Boost.odeint), errors below 1e-6
/// of T a step; the moment of the wanted temperature by bisection on that output. `curve` false: only the time, and no further.
WarmUp warm_up(const WarmUpTask& task, bool curve = true);

/// The power that brings it there in `seconds` [W], to 1e-6; all else as in the task.
double power_for(WarmUpTask task, double seconds);

/// Steam that leaves boiling water [kg/s]: what is taken in beyond the losses.
double steam_rate(const WarmUpTask& task);

}  // namespace dishwright
