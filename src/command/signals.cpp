// SPDX-License-Identifier: MIT
#include "command/signals.h"

#include <pthread.h>
#include <unistd.h>

#include <chrono>

#include "base/unfinished.h"

namespace dishwright {

namespace {

constexpr int interrupted = 130;                                                       // exit code
constexpr double patience = 0.4, patience_with_keeping = 30, second_signal_after = 1;  // [s]

/// `nohup` asks a program to outlive its terminal.
bool is_ignored(int signal) {
  struct sigaction action {};
  return sigaction(signal, nullptr, &action) == 0 && action.sa_handler == SIG_IGN;
}

const char* words() {
  return isatty(STDERR_FILENO) == 1 ? "\r                                              \rinterrupted\n" : "interrupted\n";
}

}  // namespace

Signals::Signals(Watch& watch) : watch_(watch) {
  std::signal(SIGPIPE, SIG_IGN);
  sigemptyset(&set_);
  sigaddset(&set_, SIGINT);
  sigaddset(&set_, SIGTERM);
  if (!is_ignored(SIGHUP)) sigaddset(&set_, SIGHUP);
  pthread_sigmask(SIG_BLOCK, &set_, nullptr);  // threads made from here on inherit this
  thread_ = std::thread([this] { listen(); });
}

Signals::~Signals() {
  over_ = true;
  pthread_kill(thread_.native_handle(), SIGINT);  // wakes it at once
  thread_.join();
}

void Signals::listen() {
  while (!over_) {
    if (sigwaitinfo(&set_, nullptr) < 0 || over_) continue;
    watch_.stop = true;
    wait_for_the_end();
  }
}

void Signals::wait_for_the_end() {
  const auto start = std::chrono::steady_clock::now();
  while (!over_) {
    const timespec step{0, 20'000'000};
    const bool again = sigtimedwait(&set_, nullptr, &step) > 0;
    if (over_) return;
    const double waited = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    // A closed terminal tells it twice at once: that is one signal.
    const bool second = again && waited >= second_signal_after;
    if (second || waited >= (watch_.keeps ? patience_with_keeping : patience)) end_unfinished(interrupted, words());
  }
}

}  // namespace dishwright
