// SPDX-License-Identifier: MIT
#include "report/text_layout.h"

#include <algorithm>

namespace dishwright {

namespace {

std::string spaces(int count) { return std::string(static_cast<std::size_t>(std::max(0, count)), ' '); }

}  // namespace

int characters(std::string_view text) {
  // Bytes 10xxxxxx continue a character.
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string flush_right(const std::string& text, int width) { return spaces(width - characters(text)) + text; }
std::string flush_left(const std::string& text, int width) { return text + spaces(width - characters(text)); }

std::string wrapped(std::string_view text, const std::string& first, const std::string& rest) {
  std::string out, line = first;
  bool empty = true;
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t to = std::min(text.find(' ', from), text.size());
    const std::string_view word = text.substr(from, to - from);
    from = to + 1;
    if (word.empty()) continue;
    if (!empty && characters(line) + 1 + characters(word) > text_width) {
      out += line + "\n";
      line = rest;
      empty = true;
    }
    if (!empty) line += ' ';
    line += word;
    empty = false;
  }
  return out + line + "\n";
}

}  // namespace dishwright
