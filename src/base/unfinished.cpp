// SPDX-License-Identifier: MIT
#include "base/unfinished.h"

#include <unistd.h>

#include <algorithm>
#include <cstring>
#include <vector>

namespace dishwright {

namespace {

struct Begun {
  std::recursive_mutex end;
  std::vector<std::filesystem::path> paths;  // in the order in which they were made: a folder before what is in it
};

/// Never destroyed, since the end may come at any time.
Begun& begun() {
  static Begun* const all = new Begun;  // NOLINT(cppcoreguidelines-owning-memory)
  return *all;
}

}  // namespace

Hold hold_the_end() { return Hold(begun().end); }

void note_unfinished(const std::filesystem::path& path) { begun().paths.push_back(path); }

void forget_unfinished(const std::filesystem::path& path) {
  auto& paths = begun().paths;
  paths.erase(std::remove(paths.begin(), paths.end(), path), paths.end());
}

void end_unfinished(int exit_code, const char* words) {
  const Hold hold = hold_the_end();
  for (auto path = begun().paths.rbegin(); path != begun().paths.rend(); ++path) {
    if (::unlink(path->c_str()) != 0) ::rmdir(path->c_str());
  }
  const ssize_t ignored = ::write(STDERR_FILENO, words, std::strlen(words));
  static_cast<void>(ignored);
  ::_exit(exit_code);
}

}  // namespace dishwright
