// SPDX-License-Identifier: MIT
// Tables on a terminal.
#pragma once

#include <string>
#include <vector>

namespace dishwright {

/// Columns flush right, two spaces apart, a line a row. All rows have as many cells as the first.
std::string text_table(const std::vector<std::vector<std::string>>& rows);

}  // namespace dishwright
