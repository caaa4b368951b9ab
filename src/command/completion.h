// SPDX-License-Identifier: MIT
// Completion of the command line in three shells: commands, options, the words that an option takes, files of the right ending.
#pragma once

#include <string>

#include "command/command_words.h"

namespace dishwright {

/// For bash 4 and later; needs no other package.
std::string bash_completion(const ProgramWords& program);
/// For zsh: the content of a file _dishwright on the fpath.
std::string zsh_completion(const ProgramWords& program);
/// For fish.
std::string fish_completion(const ProgramWords& program);

/// First lines of each: where it comes from.
inline std::string completion_origin(const ProgramWords& program) {
  return "# SPDX-License-Identifier: MIT\n# Written by dishwright_manual from the command line of " + program.name + " " +
         program.version + ".\n";
}

}  // namespace dishwright
