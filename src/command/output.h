// SPDX-License-Identifier: MIT
// Printing that notices a full disk or a closed pipe; the last step of writing files.
#pragma once

#include <string>

#include "base/files.h"
#include "base/progress.h"

namespace dishwright {

/// Makes sure that no file which is opened later becomes standard input, output or error where those were closed by the caller.
void open_standard_streams();
/// Writes a text of lines to standard output; control characters in it become "?" (printable_lines). Throws WriteError when it
/// cannot, Interrupted where nobody reads it any more.
void print(const std::string& text);
/// Flushes standard output. Throws as print() does.
void check_printed();
/// Puts the files in place, unless the user has asked to stop: then throws Interrupted.
void commit(WholeFiles& files, const Watch& watch);

}  // namespace dishwright
