// SPDX-License-Identifier: MIT
#include "command/output.h"

#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <iostream>

#include "base/error.h"
#include "base/text.h"

namespace dishwright {

namespace {

/// Has the reader of a pipe gone away? Asked where an earlier write failed, and its reason is lost.
bool reader_is_gone() {
  pollfd out{STDOUT_FILENO, POLLOUT, 0};
  return ::poll(&out, 1, 0) == 1 && (out.revents & POLLERR) != 0;
}

[[noreturn]] void fail_to_print(int code) {
  if (code == EPIPE || (code == 0 && reader_is_gone())) throw Interrupted("interrupted: standard output was closed");
  throw WriteError(std::string("could not write to standard output: ") + std::strerror(code != 0 ? code : EIO));
}

}  // namespace

void open_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    // Opened the wrong way round, so that printing still fails. open() takes the lowest free number, which is this one.
    if (::fcntl(stream, F_GETFD) < 0 && ::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY) < 0) return;
  }
}

void print(const std::string& text) {
  const std::string shown = printable_lines(text);
  errno = 0;
  if (std::fwrite(shown.data(), 1, shown.size(), stdout) != shown.size()) fail_to_print(errno);
  check_printed();
}

void check_printed() {
  errno = 0;
  std::cout.flush();
  if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0 || !std::cout) fail_to_print(errno);
}

void commit(WholeFiles& files, const Watch& watch) {
  end_if_stopped(watch);
  files.commit();
}

}  // namespace dishwright
