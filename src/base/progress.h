// SPDX-License-Identifier: MIT
// Interruption and progress, shared by long computations.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>

#include "base/error.h"

namespace dishwright {

/// How far a long computation is, and whether it should end early. Passed by reference; no globals.
struct Watch {
  std::atomic<bool> stop{false};          ///< Ctrl-C or the like: work ends at the next block and throws Interrupted
  std::atomic<bool> keeps{false};         ///< what is done by now will be written after a stop: the process has to live for that
  std::atomic<std::uint64_t> done{0};     ///< units finished (paths)
  std::atomic<std::uint64_t> planned{0};  ///< units in all; 0 = not known yet
  std::atomic<bool> in_paths{true};       ///< false: the units are no paths, so that their rate says nothing
  /// Of a host with one thread, where nobody can set `stop` meanwhile: asked now and then by the work itself.
  std::function<bool()> asked{};
  bool stopped() const { return stop.load(std::memory_order_relaxed) || (asked && asked()); }
};

/// Throws Interrupted when the watch is stopped. For the gaps between stages.
inline void end_if_stopped(const Watch& watch) {
  if (watch.stopped()) throw Interrupted();
}

}  // namespace dishwright
