// SPDX-License-Identifier: MIT
// The program's name as the user typed it, so that the commands that are suggested can be typed again as they stand.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/error.h"

namespace dishwright {

/// The name of the program in its own texts.
inline constexpr std::string_view plain_program_name = "dishwright";

/// The first word of the command line, fit for typing it again: "build/dishwright", "'/my tools/dishwright'"; "dishwright" where
/// it is empty or missing.
std::string typed_name(int argc, char** argv);
/// The words that may follow the program's name.
const std::vector<std::string>& command_names();
/// One of our own texts with `program` for "dishwright" wherever a command to type begins: "`dishwright new`", "dishwright trace
/// kettle.toml", "dishwright --help". Elsewhere the name stays: "dishwright 0.1.0".
std::string as_typed(std::string_view text, const std::string& program);
/// The same for the reasons and remedies of an error; what a file or the user said stays as it is.
InputError as_typed(const InputError& error, const std::string& program);

}  // namespace dishwright
