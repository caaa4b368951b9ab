// SPDX-License-Identifier: MIT
#include "command/output.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <iostream>

#include "base/error.h"
#include "base/text.h"

namespace dishwright {

void print(const std::string& text) {
  const std::string shown = printable_lines(text);
  if (std::fwrite(shown.data(), 1, shown.size(), stdout) != shown.size()) {
    throw WriteError(std::string("could not write to standard output: ") + std::strerror(errno));
  }
}

void check_printed() {
  std::cout.flush();
  if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0 || !std::cout) {
    throw WriteError(std::string("could not write to standard output: ") + std::strerror(errno != 0 ? errno : EIO));
  }
}

}  // namespace dishwright
