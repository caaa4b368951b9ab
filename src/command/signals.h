// SPDX-License-Identifier: MIT
// Ctrl-C, a closed terminal and the like, for the whole life of the process.
#pragma once

#include <atomic>
#include <csignal>
#include <thread>

#include "base/progress.h"

namespace dishwright {

/// While it lives, SIGINT, SIGTERM and SIGHUP set watch.stop. Work that does not end within 0.4 s of that (one call into a
/// library, a pipe that nobody reads) is ended from here: what was begun is removed and the process ends with 130, unless files
/// are being put in place; those are put in place first. Where the watch keeps what is done, it waits half a minute for that, or
/// for a second signal a second later. SIGPIPE becomes an error of writing. Make it before any other thread, so that none of them
/// gets a signal.
class Signals {
 public:
  explicit Signals(Watch& watch);
  ~Signals();
  Signals(const Signals&) = delete;
  Signals& operator=(const Signals&) = delete;

 private:
  void listen();
  void wait_for_the_end();
  Watch& watch_;
  sigset_t set_{};
  std::atomic<bool> over_{false};
  std::thread thread_;
};

}  // namespace dishwright
