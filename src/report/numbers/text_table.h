// SPDX-License-Identifier: MIT
// Tables on a terminal.
#pragma once

#include <string>
#include <vector>

namespace dishwright {

/// Columns flush right, two spaces apart, a line a row. No row has more cells than the first. Where the columns do not stand
/// side by side on a line, the rest follow in tables of their own below, each with the first `labels` columns again. A line
/// without a word is left out.
std::string text_table(const std::vector<std::vector<std::string>>& rows, std::size_t labels = 1);
/// A head of a column in as few lines as it needs to be at most `most` wide: broken at blanks and after dots and underscores, and
/// anywhere where there is none.
std::vector<std::string> head_lines(const std::string& head, int most);

}  // namespace dishwright
