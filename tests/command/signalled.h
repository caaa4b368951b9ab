// SPDX-License-Identifier: MIT
// Runs the program and sends it a signal after a while.
#pragma once

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <string>
#include <thread>
#include <vector>

#include "command/shell.h"

namespace dishwright::testing {

struct Signalled {
  int code = -1;        ///< as Ran::code
  double seconds = 0;   ///< from start to end
  double reaction = 0;  ///< from the signal to the end [s]; 0 where it ended before
};

/// Runs the program in `folder` with these words; standard output and error go into the files "out" and "err" of the folder
/// above. Sends `signal` after so many seconds; 0 = never.
inline Signalled run_signalled(const std::filesystem::path& folder, const std::vector<std::string>& words, int signal,
                               double after) {
  using Clock = std::chrono::steady_clock;
  const auto since = [](Clock::time_point from) { return std::chrono::duration<double>(Clock::now() - from).count(); };
  const std::string program = program_file().string();
  std::vector<char*> arguments = {const_cast<char*>(program.c_str())};
  for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  const auto start = Clock::now();
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    // What the test program does with signals is not meant for what it starts.
    for (const int one : {SIGINT, SIGTERM, SIGHUP}) std::signal(one, SIG_DFL);
    const int out = ::open((folder.parent_path() / "out").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0666);
    const int err = ::open((folder.parent_path() / "err").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0666);
    if (::chdir(folder.c_str()) != 0 || ::dup2(out, 1) < 0 || ::dup2(err, 2) < 0) ::_exit(99);
    ::execv(program.c_str(), arguments.data());
    ::_exit(98);
  }
  Signalled told;
  int status = 0;
  bool ended = false;
  while (signal != 0 && !ended && since(start) < after) {
    ended = ::waitpid(child, &status, WNOHANG) == child;
    if (!ended) std::this_thread::sleep_for(std::chrono::microseconds(500));
  }
  const auto sent = Clock::now();
  if (!ended) {
    if (signal != 0) ::kill(child, signal);
    ::waitpid(child, &status, 0);
    if (signal != 0) told.reaction = since(sent);
  }
  told.seconds = since(start);
  told.code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return told;
}

}  // namespace dishwright::testing
