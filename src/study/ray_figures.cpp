// SPDX-License-Identifier: MIT
#include "study/ray_figures.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <utility>

#include "study/walk_paths.h"
#include "tally/counts.h"
#include "tally/estimates.h"
#include "trace/direct.h"

namespace dishwright {

namespace {

constexpr std::uint32_t pilot_paths = 32768;
constexpr std::uint64_t pilot_salt = 0x70696C6F74ULL;

/// Scrambles of the pilot, of the main run and of a repeat for accuracy are all different.
std::vector<TargetScale> run_pilot(const TraceContext& context, std::uint64_t seed, std::uint32_t paths) {
  Pilot pilot(context.scene, context.list);
  const auto walk = std::make_unique<Walk>(context);
  for (std::uint32_t first = 0; first < paths; first += block_size)
    walk->block(mix_bits(seed ^ pilot_salt), {0, first, block_size, paths}, pilot);
  return pilot.scales();
}

TraceFigures run(const TraceContext& context, const PathPlan& plan, Watch& watch) {
  const TallyPlan tally =
      make_tally_plan(context.scene, context.list, plan.replicates, run_pilot(context, plan.seed, pilot_paths));
  std::optional<TallyCounts> counts;  // a large thing: the first thread's is taken as it is
  walk_replicates<TallyCounts>(
      context, plan, 0, plan.replicates, watch, [&] { return TallyCounts(tally); },
      [&](TallyCounts& more) { counts ? counts->merge(more) : void(counts.emplace(std::move(more))); });
  if (!counts) counts.emplace(tally);
  RunTotals totals{plan, context.source_power(), context.emission.every_point_counts(), {}};
  for (std::size_t k = 0; k < context.scene.targets.size() && !context.scene.lamp; ++k) {
    totals.direct.push_back(direct_power(context, static_cast<int>(k), plan.seed, 2048));
  }
  return estimate_figures(tally, *counts, totals);
}

/// Paths that should bring the first target's intercept to the wanted standard error. Error falls at least as 1/√paths.
std::uint64_t paths_for(double accuracy, const TraceFigures& so_far) {
  const double error = so_far.targets[0].intercept ? so_far.targets[0].intercept->std_error.value_or(0) : 0;
  const double factor = std::clamp(1.2 * std::pow(error / accuracy, 2), 1.5, 1e4);
  return static_cast<std::uint64_t>(static_cast<double>(so_far.paths) * factor);
}

TraceFigures run_to_accuracy(const TraceContext& context, double accuracy, Watch& watch) {
  std::uint64_t paths = 1U << 16U;
  for (;;) {
    watch.done = 0;
    watch.planned = paths;
    TraceFigures figures = run(context, PathPlan::of(context.scene.trace.seed, paths), watch);
    const auto& intercept = figures.targets[0].intercept;
    if (!intercept || intercept->std_error.value_or(0) <= accuracy) return figures;
    paths = std::min<std::uint64_t>(paths_for(accuracy, figures), 100'000'000'000U);
    if (figures.paths >= 100'000'000'000U) return figures;
  }
}

}  // namespace

TraceFigures ray_figures(const Scene& scene, int threads, Watch& watch, GeometryCache* geometries) {
  const TraceContext context = context_of(scene, geometries);
  TraceFigures figures;
  on_threads(threads, [&] {
    if (scene.trace.accuracy) {
      figures = run_to_accuracy(context, *scene.trace.accuracy, watch);
    } else {
      if (watch.planned == 0) watch.planned = scene.trace.paths;  // else the trace is a part of something longer
      figures = run(context, PathPlan::of(scene.trace.seed, scene.trace.paths), watch);
    }
  });
  return figures;
}

}  // namespace dishwright
