// SPDX-License-Identifier: MIT
// A progress line on a terminal.
#pragma once

#include <condition_variable>
#include <mutex>
#include <thread>

#include "base/progress.h"

namespace dishwright {

/// Starts the counts of `watch` afresh. While it lives: after one second shows how far `watch` is, its rate and the time left, on
/// standard error if that is a terminal.
class Progress {
 public:
  explicit Progress(Watch& watch);
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

 private:
  void show();
  Watch& watch_;
  std::mutex mutex_;
  std::condition_variable over_changed_;
  bool over_ = false;
  std::thread thread_;
};

}  // namespace dishwright
