// SPDX-License-Identifier: MIT
// Values and names of files that a shell has cut at their blanks.
#pragma once

#include <string>
#include <vector>

#include "command/command_words.h"

namespace dishwright {

/// How many of the words that follow an option's value were meant to be part of it: "width=48" and "in" of --set width=48 in. 0
/// where none was: a unit or the rest of a range always is; other words are where they name no file, end like none, and the
/// command has no place for them (`room`: it has).
std::size_t torn_off(const OptionWords& option, const std::string& value, const std::vector<std::string>& following, bool room);

/// The file that some words from the first on name together, with blanks between them: "my dish.toml"; empty where there is none.
std::string joined_file(const std::vector<std::string>& words);

}  // namespace dishwright
