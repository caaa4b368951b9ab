// SPDX-License-Identifier: MIT
// Interruption and progress, shared by long computations.
#pragma once

#include <atomic>
#include <cstdint>

#include "base/error.h"

namespace dishwright {

/// How far a long computation is, and whether it should end early. Passed by reference; no globals.
struct Watch {
  std::atomic<bool> stop{false};          ///< Ctrl-C or the like: work ends at the next block and throws Interrupted
  std::atomic<bool> keeps{false};         ///< what is done by now will be written after a stop: the process has to live for that
  std::atomic<std::uint64_t> done{0};     ///< units finished (paths)
  std::atomic<std::uint64_t> planned{0};  ///< units in all; 0 = not known yet
  std::atomic<bool> in_paths{true};       ///< false: the units are no paths, so that their rate says nothing
};

/// Throws Interrupted when watch.stop is set. For the gaps between stages.
inline void end_if_stopped(const Watch& watch) {
  if (watch.stop.load()) throw Interrupted();
}

}  // namespace dishwright
