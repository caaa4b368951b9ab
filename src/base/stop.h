// SPDX-License-Identifier: MIT
// Ctrl-C and progress, shared by long computations.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>

namespace dishwright {

/// How far a long computation is, and whether it should end early. Passed by reference; no globals.
struct Watch {
  std::atomic<bool> stop{false};          ///< set by a signal handler: work ends at the next block and throws Interrupted
  std::atomic<std::uint64_t> done{0};     ///< units finished (paths)
  std::atomic<std::uint64_t> planned{0};  ///< units in all; 0 = not known yet
  std::atomic<bool> in_paths{true};       ///< false: the units are no paths, so that their rate says nothing
};

}  // namespace dishwright
