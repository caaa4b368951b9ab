// SPDX-License-Identifier: MIT
#include "command/progress.h"

#include <fmt/format.h>
#include <pthread.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdio>

namespace dishwright {

namespace {

sigset_t interrupt_signal() {
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  return set;
}

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
  const sigset_t set = interrupt_signal();
  pthread_sigmask(SIG_BLOCK, &set, nullptr);  // threads made from here on inherit this
  thread_ = std::thread([this] { keep_watch(); });
}

Progress::~Progress() {
  over_ = true;
  pthread_kill(thread_.native_handle(), SIGINT);  // wakes it at once
  thread_.join();
}

void Progress::keep_watch() {
  const bool shows = isatty(STDERR_FILENO) == 1;
  const sigset_t set = interrupt_signal();
  const auto start = std::chrono::steady_clock::now();
  bool shown = false;
  while (!over_) {
    const timespec wait{0, 200'000'000};
    if (sigtimedwait(&set, nullptr, &wait) == SIGINT && !over_) watch_.stop = true;
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (!shows || over_ || seconds < 1) continue;
    std::fputs(progress_line(watch_, seconds).c_str(), stderr);
    shown = true;
  }
  if (shown) std::fputs("\r                                              \r", stderr);
}

}  // namespace dishwright
