// SPDX-License-Identifier: MIT
// What every refusal of the program has in common.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "command/shell.h"

namespace dishwright::testing {

/// Runs the program and checks that it refuses with exit code 2 and `part` in its words, prints no result, and that no file came
/// or went.
inline void check_refused(const Shell& shell, const std::string& arguments, const std::string& part) {
  CAPTURE(arguments);
  const auto before = shell.files();
  const Ran ran = shell.run("timeout 20 \"$DW\" " + arguments);
  CAPTURE(ran.err);
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  CHECK(holds(ran.err, part));
  CHECK(shell.files() == before);
}

}  // namespace dishwright::testing
