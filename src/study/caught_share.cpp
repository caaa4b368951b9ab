// SPDX-License-Identifier: MIT
#include "study/caught_share.h"

#include <tbb/enumerable_thread_specific.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <memory>
#include <vector>

#include "base/error.h"
#include "trace/plan.h"
#include "trace/walk.h"

namespace dishwright {

namespace {

struct Weights {
  std::int64_t left = 0, landed = 0;
};

/// Whole-number sums by replicate; slot 0 is the first target's.
class ShareEnds : public RayEnds {
 public:
  explicit ShareEnds(std::uint32_t replicates) : rows_(replicates) {}
  void begin(std::uint32_t replicate) override { replicate_ = replicate; }
  void started(int /*paths*/) override {}
  void left_mirrors(double weight) override { rows_[replicate_].left += static_cast<std::int64_t>(weight); }
  void booked(int slot, double weight) override {
    if (slot == 0) rows_[replicate_].landed += static_cast<std::int64_t>(weight);
  }
  void landed(int /*piece*/, const WeightedPoints& /*points*/) override {}
  void crossed(int /*target*/, const WeightedPoints& /*points*/) override {}
  const std::vector<Weights>& rows() const { return rows_; }

 private:
  std::uint32_t replicate_ = 0;
  std::vector<Weights> rows_;
};

struct Worker {
  Walk walk;
  ShareEnds ends;
  Worker(const Stage& stage, std::uint32_t replicates) : walk(stage), ends(replicates) {}
};

std::vector<Weights> walk_all(const Stage& stage, const PathPlan& plan, Watch& watch) {
  struct Block {
    std::uint32_t replicate, first;
    int paths;
  };
  std::vector<Block> blocks;
  for (std::uint32_t r = 0; r < plan.replicates; ++r) {
    for (std::uint32_t first = 0; first < plan.count(r); first += block_size)
      blocks.push_back({r, first, static_cast<int>(std::min<std::uint32_t>(block_size, plan.count(r) - first))});
  }
  tbb::enumerable_thread_specific<std::unique_ptr<Worker>> workers;
  tbb::parallel_for(tbb::blocked_range<std::size_t>(0, blocks.size(), 4), [&](const tbb::blocked_range<std::size_t>& range) {
    auto& worker = workers.local();
    if (!worker) worker = std::make_unique<Worker>(stage, plan.replicates);
    for (std::size_t b = range.begin(); b != range.end(); ++b) {
      if (watch.stop.load(std::memory_order_relaxed)) return;
      worker->walk.block(plan.seed, blocks[b].replicate, blocks[b].first, blocks[b].paths, worker->ends);
      watch.done.fetch_add(static_cast<std::uint64_t>(blocks[b].paths), std::memory_order_relaxed);
    }
  });
  if (watch.stop.load()) throw Interrupted();
  std::vector<Weights> rows(plan.replicates);
  for (const auto& worker : workers) {
    for (std::size_t r = 0; r < rows.size(); ++r) {
      rows[r].left += worker->ends.rows()[r].left;
      rows[r].landed += worker->ends.rows()[r].landed;
    }
  }
  return rows;
}

}  // namespace

Estimate caught_share(const Scene& scene, std::uint64_t paths, int threads, Watch& watch) {
  const Stage stage(scene);
  const PathPlan plan = PathPlan::of(scene.trace.seed, paths);
  const int most = std::max(threads, tbb::this_task_arena::max_concurrency());
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(most));
  tbb::task_arena arena(threads);
  std::vector<Weights> rows;
  arena.execute([&] { rows = walk_all(stage, plan, watch); });
  Weights all;
  for (const Weights& row : rows) all.left += row.left, all.landed += row.landed;
  return jackknifed("1", static_cast<int>(rows.size()), [&](int r) {
    const Weights without = r < 0 ? Weights{} : rows[static_cast<std::size_t>(r)];
    const std::int64_t left = all.left - without.left;
    return left > 0 ? static_cast<double>(all.landed - without.landed) / static_cast<double>(left) : 0.0;
  });
}

}  // namespace dishwright
