// SPDX-License-Identifier: MIT
#include "command/output.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <iostream>

#include "base/error.h"

namespace dishwright {

void print(const std::string& text) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size()) {
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
