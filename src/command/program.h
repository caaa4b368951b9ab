// SPDX-License-Identifier: MIT
// The command line: one file a subcommand; here they are listed.
#pragma once

namespace dishwright {

/// Runs the command that the words name; returns its exit code (0 or 1) or throws InputError, WriteError, Interrupted.
int run_program(int argc, char** argv);

}  // namespace dishwright
