// SPDX-License-Identifier: MIT
// How long a dish takes to heat its load: one trace, the balance of the load, a band over what nobody knows exactly, the goal.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "heat/warm_up.h"
#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// What the band is drawn over: each between its ends, evenly, and independent of the others.
struct HeatRanges {
  struct Span {
    double low = 0, best = 0, high = 0;  ///< `best`: as the project has it
  };
  Span beam;         ///< [W/m²]
  Span wind;         ///< [m/s]
  Span reflected;    ///< light on the target against that of the project's finish [1]
  Span aim;          ///< further off than the project says [rad], in any direction
  Span absorptance;  ///< [1]
  Span convection;   ///< factor on all convection [1]
  bool clear_sky = false;
  bool has_finish = false;
};

/// What is known of the light, from one trace and a few looks with the aim off.
struct HeatLight {
  double power = 0, direct = 0;                  ///< on the counted faces by way of the mirrors, and straight [W]
  std::optional<double> power_error;             ///< standard error of `power` [W]
  std::array<double, 3> angle{}, left{1, 1, 1};  ///< aim off by so much [rad], share of the light left [1]
  double left_at(double further) const;          ///< between these, and straight on
};

/// Of samples: a tenth lie below `low`, a tenth above `high`; `best` is the project as it is. Empty: that one does not get there.
struct HeatBand {
  std::optional<double> low, best, high;
};

struct HeatGoal {
  std::optional<double> within;  ///< [s]; empty: no time was asked for, and it has to get there at all
  double in_time = 0;            ///< share of the samples that make it [1]
  std::optional<bool> holds;     ///< nine samples of ten make it: true; nine of ten do not: false; else empty, too close to call
  std::optional<double> needed;  ///< power taken in that would just do it, all else as in the project [W]
  std::optional<double> width;   ///< of the mirror that would bring it, all else alike [m]; of one mirror only
  double width_now = 0;          ///< [m]
  bool by_width = false;         ///< a trough: power goes with the width, at the same length; else with its square
};

struct HeatPlan {
  Scene scene;  ///< with a load
  TraceFigures figures;
  HeatLight light;
  HeatRanges ranges;
  WarmUpTask task;  ///< of the project as it is
  HeatBand power;   ///< taken in [W]
  std::optional<double> power_error;
  HeatBand seconds;                     ///< to the wanted temperature [s]
  HeatBand stagnation;                  ///< of the empty vessel [K]
  int samples = 0, never = 0;           ///< those that do not get there in `longest`
  double longest = 0;                   ///< how far it is followed [s]
  double step = 60;                     ///< of the curves [s]
  std::vector<double> low, best, high;  ///< temperature at 0, step, … [K]; a tenth of the samples below, and above
  HeatLosses at_wanted;                 ///< what the project as it is loses at the wanted temperature
  double steam = 0;                     ///< of boiling water [kg/s]
  HeatGoal goal;
};

constexpr int heat_samples = 256;

/// How the light of the load's target falls off when the dish is aimed further off, mean of four directions: by quadrature where
/// that is quicker, else by 32 768 paths with the same random numbers. Throws what light_figures() throws.
HeatLight heat_light(const Scene& scene, const TraceFigures& figures, int threads, const Watch& watch);

/// The ranges of a scene, from its finish, its skin and stated shares.
HeatRanges heat_ranges(const Scene& scene, const TargetFigures& target);

/// One draw of the ranges, numbers in 0 … 1 in the order of HeatRanges, as a task; `best` is task_of() of the project itself.
WarmUpTask heat_task(const Scene& scene, const HeatLight& light, const HeatRanges& ranges, const std::array<double, 6>& draw);
WarmUpTask best_heat_task(const Scene& scene, const HeatLight& light);

/// The band: 256 scrambled Sobol' points by the scene's seed. Same bits on any number of threads. The curves run on for
/// `measured` [s] at least, as long as anything is followed.
HeatPlan heat_plan(const Scene& scene, int threads, Watch& watch, double measured = 0);

}  // namespace dishwright
