// SPDX-License-Identifier: MIT
// Parallel loops on as many threads as the user asks for. What needs oneTBB stands here alone; the browser's engine has one
// thread, and no library for them.
#pragma once

#include <algorithm>
#include <cstddef>

#ifndef __EMSCRIPTEN__
#include <tbb/blocked_range.h>
#include <tbb/enumerable_thread_specific.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>
#endif

namespace dishwright {

#ifndef __EMSCRIPTEN__

/// Runs `work` where parallel loops use so many threads (>= 1; more than there are cores are allowed, the library would hold them
/// back).
template <class Work>
void on_threads(int threads, const Work& work) {
  const int most = std::max(threads, tbb::this_task_arena::max_concurrency());
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(most));
  tbb::task_arena arena(threads);
  arena.execute(work);
}

/// Calls work(first, last) for pieces of from … to − 1 that together hold each number once, in any order and side by side; a
/// piece has about `grain` numbers (>= 1) or more.
template <class Number, class Work>
void for_pieces(Number from, Number to, Number grain, const Work& work) {
  tbb::parallel_for(tbb::blocked_range<Number>(from, to, grain),
                    [&](const tbb::blocked_range<Number>& piece) { work(piece.begin(), piece.end()); });
}

/// One value for each thread that asks for its own.
template <class Value>
using PerThread = tbb::enumerable_thread_specific<Value>;

#else

template <class Work>
void on_threads(int /*threads*/, const Work& work) {
  work();
}

template <class Number, class Work>
void for_pieces(Number from, Number to, Number /*grain*/, const Work& work) {
  if (from < to) work(from, to);
}

template <class Value>
class PerThread {
 public:
  Value& local() {
    used_ = 1;
    return value_;
  }
  Value* begin() { return &value_; }
  Value* end() { return &value_ + used_; }

 private:
  Value value_{};
  std::size_t used_ = 0;
};

#endif

/// Calls one(k) for each number from … to − 1, in any order and side by side.
template <class One>
void for_each_number(std::size_t from, std::size_t to, const One& one) {
  for_pieces(from, to, std::size_t{1}, [&](std::size_t first, std::size_t last) {
    for (std::size_t k = first; k < last; ++k) one(k);
  });
}

}  // namespace dishwright
