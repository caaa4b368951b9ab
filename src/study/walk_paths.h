// SPDX-License-Identifier: MIT
// All paths of a plan, walked on all threads.
#pragma once

#include <algorithm>
#include <memory>
#include <vector>

#include "base/error.h"
#include "base/progress.h"
#include "base/threads.h"
#include "trace/plan.h"
#include "trace/walk.h"

namespace dishwright {

/// Walks the blocks of replicates from … to − 1. Each thread tells its own `Ends`, made by make_ends(); `take` gets each of them
/// at the end, in no fixed order. Counts paths in watch.done; throws Interrupted when watch.stop is set.
template <class Ends, class MakeEnds, class Take>
void walk_replicates(const TraceContext& context, const PathPlan& plan, std::uint32_t from, std::uint32_t to, Watch& watch,
                     const MakeEnds& make_ends, const Take& take) {
  struct Worker {
    Walk walk;
    Ends ends;
    Worker(const TraceContext& shared, Ends own) : walk(shared), ends(std::move(own)) {}
  };
  // The first replicate has the most paths. Blocks of one strip follow one another, for the sake of the near memory.
  const std::uint64_t replicates = to - from, blocks = (plan.count(from) + block_size - 1) / block_size;
  const auto block_at = [&](std::uint64_t k) {
    const std::uint64_t replicate = context.by_strips ? k % replicates : k / blocks;
    return plan.block(from + static_cast<std::uint32_t>(replicate),
                      static_cast<std::uint32_t>(context.by_strips ? k / replicates : k % blocks));
  };
  PerThread<std::unique_ptr<Worker>> workers;
  const auto work = [&](std::uint64_t first, std::uint64_t last) {
    auto& worker = workers.local();
    if (!worker) worker = std::make_unique<Worker>(context, make_ends());
    for (std::uint64_t b = first; b != last; ++b) {
      if (watch.stopped()) return;
      const PathBlock block = block_at(b);
      if (block.n == 0) continue;
      worker->walk.block(plan.seed, block, worker->ends);
      watch.done.fetch_add(block.n, std::memory_order_relaxed);
    }
  };
  const std::uint64_t grain = std::clamp<std::uint64_t>(replicates * blocks / 64, 1, 64);
  for_pieces(std::uint64_t{0}, replicates * blocks, grain, work);
  if (watch.stopped()) throw Interrupted();
  for (auto& worker : workers) take(worker->ends);
}

}  // namespace dishwright
