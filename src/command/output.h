// SPDX-License-Identifier: MIT
// Printing that notices a full disk.
#pragma once

#include <string>

namespace dishwright {

/// Writes text to standard output. Throws WriteError when it cannot.
void print(const std::string& text);
/// Flushes standard output. Throws WriteError when that fails.
void check_printed();

}  // namespace dishwright
