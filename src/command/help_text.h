// SPDX-License-Identifier: MIT
// What --help prints.
#pragma once

#include <string>

#include "command/command_words.h"

namespace dishwright {

/// The help of the program: what it is for, how to begin, a line a command. No line is wider than 80 columns, but for a word that
/// is. `program` is its name as the user typed it.
std::string program_help(const ProgramWords& words, const std::string& program);
/// The help of one command: its question, examples, files and options.
std::string command_help(const CommandWords& words, const std::string& program);
/// A help's running text in 80 columns: flush lines that follow each other are one paragraph; an indented line is broken below
/// its own beginning, or below its second column; a command to type is broken before an option, with the shell's mark for it.
std::string help_paragraphs(const std::string& text, const std::string& program);

}  // namespace dishwright
