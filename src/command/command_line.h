// SPDX-License-Identifier: MIT
// Slips of the command line, told as well as those of a project file. The shell has cut the line at its blanks before the program
// sees it, so a value without quotes comes as several words.
#pragma once

#include <string>
#include <vector>

#include "command/command_words.h"

namespace dishwright {

/// Looks at the words behind the program's name before they are read. Throws InputError for a command or an option that is not
/// known (with the nearest one), dashes and quotes of a text processor, values and names of files whose quotes are missing, words
/// too many, and files that are not there where it is known what was meant. `program` is the name as it was typed.
void check_command_line(const std::vector<std::string>& words, const ProgramWords& program_words, const std::string& program);

/// What the reader of the command line says of it ("--out: At Most 1 required but received 2"), in our words. Never returns.
[[noreturn]] void refuse_command_line(const std::vector<std::string>& words, const ProgramWords& program_words,
                                      const std::string& program, const std::string& said);

}  // namespace dishwright
