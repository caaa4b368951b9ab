// SPDX-License-Identifier: MIT
// Parallel loops on as many threads as the user asks for.
#pragma once

#include <tbb/global_control.h>
#include <tbb/task_arena.h>

#include <algorithm>
#include <cstddef>

namespace dishwright {

/// Runs `work` where parallel loops use so many threads (>= 1; more than there are cores are allowed, the library would hold them
/// back).
template <class Work>
void on_threads(int threads, const Work& work) {
  const int most = std::max(threads, tbb::this_task_arena::max_concurrency());
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(most));
  tbb::task_arena arena(threads);
  arena.execute(work);
}

}  // namespace dishwright
