// SPDX-License-Identifier: MIT
// The program, installed into a folder of the test, and what its helps name.
#pragma once

#include <doctest/doctest.h>

#include <filesystem>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

#include "command/shell.h"

namespace dishwright::testing {

/// A shell whose working folder stands beside an installed tree: "../installed".
class Installed : public Shell {
 public:
  Installed() {
    const Ran ran = run("cmake --install \"$BUILD\" --prefix ../installed");
    REQUIRE_MESSAGE(ran.code == 0, ran.err);
  }
  std::filesystem::path top() const { return here().parent_path() / "installed"; }
  /// An installed file as text; fails where there is none.
  std::string text(const std::string& name) const {
    REQUIRE_MESSAGE(std::filesystem::is_regular_file(top() / name), name);
    return file_content(top() / name);
  }
};

/// Only what every user's environment has, and the words that steer a sanitizer.
inline const std::string clean_environment =
    "env -i PATH=/usr/bin:/bin HOME=/nonexistent \"ASAN_OPTIONS=$ASAN_OPTIONS\" \"LSAN_OPTIONS=$LSAN_OPTIONS\" ";

/// First groups of all matches, line by line.
inline std::vector<std::string> found_in(const std::string& text, const std::string& pattern) {
  const std::regex regex(pattern);
  std::vector<std::string> found;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    std::smatch match;
    if (std::regex_search(line, match, regex)) found.push_back(match[1]);
  }
  return found;
}

/// The commands that --help lists.
inline std::vector<std::string> commands_of(const Shell& shell) {
  const std::string help = shell.run("\"$DW\" --help").out;
  const std::vector<std::string> commands = found_in(help.substr(help.find("Commands:")), "^  ([a-z]+) ");
  REQUIRE(commands.size() >= 6);
  return commands;
}

/// The long options that the help of a command lists.
inline std::vector<std::string> options_of(const Shell& shell, const std::string& command) {
  const std::vector<std::string> options =
      found_in(shell.run("\"$DW\" " + command + " --help").out, "^  (?:-[a-z], )?(--[a-z-]+)");
  REQUIRE(options.size() >= 2);
  return options;
}

}  // namespace dishwright::testing
