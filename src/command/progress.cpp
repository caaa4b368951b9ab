// SPDX-License-Identifier: MIT
#include "command/progress.h"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>

namespace dishwright {

namespace {

std::string progress_line(const Watch& watch, double seconds) {
  const double done = static_cast<double>(watch.done.load()), planned = static_cast<double>(watch.planned.load());
  const double rate = seconds > 0 ? done / seconds : 0;
  if (planned <= 0 || rate <= 0) return fmt::format("\r{:.0f} s", seconds);
  if (!watch.in_paths) return fmt::format("\r{:3.0f} %  {:.0f} s left   ", 100 * done / planned, (planned - done) / rate);
  return fmt::format("\r{:3.0f} %  {:.1f} M paths/s  {:.0f} s left   ", 100 * done / planned, rate / 1e6,
                     (planned - done) / rate);
}

}  // namespace

Progress::Progress(Watch& watch) : watch_(watch) {
  watch.done = 0, watch.planned = 0;
  if (isatty(STDERR_FILENO) == 1) thread_ = std::thread([this] { show(); });
}

Progress::~Progress() {
  {
    const std::lock_guard lock(mutex_);
    over_ = true;
  }
  over_changed_.notify_all();
  if (thread_.joinable()) thread_.join();
}

void Progress::show() {
  const auto start = std::chrono::steady_clock::now();
  bool shown = false;
  std::unique_lock lock(mutex_);
  while (!over_changed_.wait_for(lock, std::chrono::milliseconds(200), [this] { return over_; })) {
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (seconds < 1) continue;
    std::fputs(progress_line(watch_, seconds).c_str(), stderr);
    shown = true;
  }
  if (shown) std::fputs("\r                                              \r", stderr);
}

}  // namespace dishwright
