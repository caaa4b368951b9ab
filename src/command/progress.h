// SPDX-License-Identifier: MIT
// A progress line on a terminal, and Ctrl-C.
#pragma once

#include <thread>

#include "base/stop.h"

namespace dishwright {

/// While it lives: after one second shows how far `watch` is, its rate and the time left, on standard error if that is a terminal; and
/// turns Ctrl-C into watch.stop. Make it before any other thread, so that none of them gets the signal.
class Progress {
 public:
  explicit Progress(Watch& watch);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

 private:
  void keep_watch();
  Watch& watch_;
  std::atomic<bool> over_{false};
  std::thread thread_;
};

}  // namespace dishwright
