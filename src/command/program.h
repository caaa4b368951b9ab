// SPDX-License-Identifier: MIT
// The command line: one file a subcommand; here they are listed.
#pragma once

#include "base/progress.h"
#include "command/command_words.h"

namespace dishwright {

/// Runs the command that the words name; returns its exit code (0 or 1, or 130 where a part was kept) or throws InputError,
/// WriteError, Interrupted. Setting watch.stop ends it early.
int run_program(int argc, char** argv, Watch& watch);
/// The same for a caller that nobody interrupts.
inline int run_program(int argc, char** argv) {
  Watch watch;
  return run_program(argc, argv, watch);
}

/// Its commands and options, from the same list that reads the command line.
ProgramWords program_words();

}  // namespace dishwright
