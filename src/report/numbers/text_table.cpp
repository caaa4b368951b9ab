// SPDX-License-Identifier: MIT
#include "report/numbers/text_table.h"

#include <algorithm>

#include "base/text.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string some_columns(const Rows& rows, const std::vector<int>& widths, const std::vector<std::size_t>& columns) {
  std::string out;
  for (const auto& row : rows) {
    std::string text;
    for (const std::size_t c : columns) {
      if (c < row.size()) text += "  " + flush_right(row[c], widths[c]);
    }
    text.erase(text.find_last_not_of(' ') + 1);
    if (!text.empty()) out += text + "\n";
  }
  return out;
}

/// Where the text may be broken: behind these bytes.
bool breaks_behind(char c) { return c == ' ' || c == '.' || c == '_'; }

}  // namespace

std::string text_table(const Rows& rows, std::size_t labels) {
  std::vector<int> widths(rows.front().size(), 0);
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], characters(row[c]));
  }
  std::string out;
  std::size_t from = labels;
  do {
    std::vector<std::size_t> columns;
    int width = 0;
    const auto take = [&](std::size_t c) { columns.push_back(c), width += 2 + widths[c]; };
    for (std::size_t c = 0; c < std::min(labels, widths.size()); ++c) take(c);
    const std::size_t first = from;
    while (from < widths.size() && (from == first || width + 2 + widths[from] <= text_width)) take(from++);
    out += (out.empty() ? "" : "\n") + some_columns(rows, widths, columns);
  } while (from < widths.size());
  return out;
}

std::vector<std::string> head_lines(const std::string& head, int most) {
  std::vector<std::string> lines(1);
  std::string word;
  const auto end_word = [&] {
    if (!lines.back().empty() && characters(lines.back() + word) - (word.ends_with(' ') ? 1 : 0) > most) lines.emplace_back();
    lines.back() += word;
    word.clear();
  };
  for (std::size_t i = 0; i < head.size();) {
    const std::size_t size = std::max<std::size_t>(1, character_size(head, i));
    word += head.substr(i, size);
    if (breaks_behind(word.back()) || characters(word) >= most) end_word();
    i += size;
  }
  end_word();
  for (std::string& line : lines) line.erase(line.find_last_not_of(' ') + 1);
  return lines;
}

}  // namespace dishwright
