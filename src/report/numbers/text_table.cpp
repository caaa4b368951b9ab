// SPDX-License-Identifier: MIT
#include "report/numbers/text_table.h"

#include <algorithm>

#include "report/numbers/text_layout.h"

namespace dishwright {

std::string text_table(const std::vector<std::vector<std::string>>& rows) {
  std::vector<int> widths(rows.front().size(), 0);
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], characters(row[c]));
  }
  std::string out;
  for (const auto& row : rows) {
    std::string text;
    for (std::size_t c = 0; c < row.size(); ++c) text += "  " + flush_right(row[c], widths[c]);
    out += text + "\n";
  }
  return out;
}

}  // namespace dishwright
