// SPDX-License-Identifier: MIT
#include "study/trace_scene.h"

#include <tbb/blocked_range.h>
#include <tbb/enumerable_thread_specific.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "tally/books.h"
#include "tally/finish.h"
#include "trace/direct.h"
#include "trace/plan.h"
#include "trace/walk.h"

namespace dishwright {

namespace {

constexpr std::uint32_t pilot_paths = 32768;
constexpr std::uint64_t pilot_salt = 0x70696C6F74ULL;

/// Scrambles of the pilot, of the main run and of a repeat for accuracy are all different.
std::vector<Aim> run_pilot(const Stage& stage, std::uint64_t seed, std::uint32_t paths) {
  Pilot pilot(stage.scene, stage.list);
  const auto walk = std::make_unique<Walk>(stage);
  for (std::uint32_t first = 0; first < paths; first += block_size)
    walk->block(mix_bits(seed ^ pilot_salt), 0, first, block_size, pilot);
  return pilot.aims();
}

/// Paths and books of one thread.
struct Worker {
  Walk walk;
  Books books;
  Worker(const Stage& stage, const TallyPlan& plan) : walk(stage), books(plan) {}
};

/// Walks the blocks of replicates from … to − 1 on all threads and merges what they counted.
void run_replicates(const Stage& stage, const TallyPlan& tally, const PathPlan& plan, std::uint32_t from, std::uint32_t to,
                    Watch& watch, Books& total) {
  std::vector<std::uint64_t> first_block = {0};
  for (std::uint32_t r = from; r < to; ++r)
    first_block.push_back(first_block.back() + (plan.count(r) + block_size - 1) / block_size);
  tbb::enumerable_thread_specific<std::unique_ptr<Worker>> workers;
  const auto work = [&](const tbb::blocked_range<std::uint64_t>& range) {
    auto& worker = workers.local();
    if (!worker) worker = std::make_unique<Worker>(stage, tally);
    for (std::uint64_t b = range.begin(); b != range.end(); ++b) {
      if (watch.stop.load(std::memory_order_relaxed)) return;
      const auto after = std::upper_bound(first_block.begin(), first_block.end(), b);
      const std::uint32_t replicate = from + static_cast<std::uint32_t>(after - first_block.begin()) - 1;
      const std::uint32_t first = static_cast<std::uint32_t>(b - *(after - 1)) * block_size;
      const std::uint32_t n = std::min<std::uint32_t>(block_size, plan.count(replicate) - first);
      worker->walk.block(plan.seed, replicate, first, static_cast<int>(n), worker->books);
      watch.done.fetch_add(n, std::memory_order_relaxed);
    }
  };
  const std::uint64_t grain = std::clamp<std::uint64_t>(first_block.back() / 64, 1, 64);
  tbb::parallel_for(tbb::blocked_range<std::uint64_t>(0, first_block.back(), grain), work);
  if (watch.stop.load()) throw Interrupted();
  for (const auto& worker : workers) total.merge(worker->books);
}

TraceFigures run(const Stage& stage, const PathPlan& plan, Watch& watch) {
  TallyPlan tally = make_tally_plan(stage.scene, stage.list, plan.replicates, run_pilot(stage, plan.seed, pilot_paths));
  Books books(tally);
  // The first half of the replicates finds the brightest place, the second half measures it.
  run_replicates(stage, tally, plan, 0, plan.replicates / 2, watch, books);
  tally.peak = find_peaks(tally, books);
  tally.peaks_found = true;
  run_replicates(stage, tally, plan, plan.replicates / 2, plan.replicates, watch, books);
  Frame frame{plan, stage.source_power(), stage.emission.every_point_counts(), {}};
  for (std::size_t k = 0; k < stage.scene.targets.size() && !stage.scene.lamp; ++k) {
    frame.direct.push_back(direct_power(stage, static_cast<int>(k), plan.seed, 2048));
  }
  return finish_figures(tally, books, frame);
}

/// Paths that should bring the first target's intercept to the wanted standard error. Error falls at least as 1/√paths.
std::uint64_t paths_for(double accuracy, const TraceFigures& so_far) {
  const double error = so_far.targets[0].intercept ? so_far.targets[0].intercept->std_error.value_or(0) : 0;
  const double factor = std::clamp(1.2 * std::pow(error / accuracy, 2), 1.5, 1e4);
  return static_cast<std::uint64_t>(static_cast<double>(so_far.paths) * factor);
}

TraceFigures run_to_accuracy(const Stage& stage, double accuracy, Watch& watch) {
  std::uint64_t paths = 1U << 16U;
  for (;;) {
    watch.done = 0;
    watch.planned = paths;
    TraceFigures figures = run(stage, PathPlan::of(stage.scene.trace.seed, paths), watch);
    const auto& intercept = figures.targets[0].intercept;
    if (!intercept || intercept->std_error.value_or(0) <= accuracy) return figures;
    paths = std::min<std::uint64_t>(paths_for(accuracy, figures), 100'000'000'000U);
    if (figures.paths >= 100'000'000'000U) return figures;
  }
}

}  // namespace

TraceFigures trace_scene(const Scene& scene, int threads, Watch& watch) {
  const Stage stage(scene);
  // More threads than cores are allowed: the library would hold them back.
  const int most = std::max(threads, tbb::this_task_arena::max_concurrency());
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(most));
  tbb::task_arena arena(threads);
  TraceFigures figures;
  arena.execute([&] {
    if (scene.trace.accuracy) {
      figures = run_to_accuracy(stage, *scene.trace.accuracy, watch);
    } else {
      if (watch.planned == 0) watch.planned = scene.trace.paths;  // else the trace is a part of something longer
      figures = run(stage, PathPlan::of(scene.trace.seed, scene.trace.paths), watch);
    }
  });
  return figures;
}

}  // namespace dishwright
