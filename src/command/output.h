// SPDX-License-Identifier: MIT
// Printing that notices a full disk.
#pragma once

#include <string>

namespace dishwright {

/// Writes a text of lines to standard output; control characters in it become "?" (printable_lines). Throws WriteError when it cannot.
void print(const std::string& text);
/// Flushes standard output. Throws WriteError when that fails.
void check_printed();

}  // namespace dishwright
