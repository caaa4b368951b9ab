// SPDX-License-Identifier: MIT
#include "report/text_layout.h"

#include <algorithm>
#include <iterator>
#include <vector>

namespace dishwright {

namespace {

std::string spaces(int count) { return std::string(static_cast<std::size_t>(std::max(0, count)), ' '); }

/// A number stays with its ± and its unit.
bool belong_together(std::string_view before, std::string_view word) {
  constexpr std::string_view glue[] = {"±",  "×",   "=",   "%",    "in", "mm", "in²", "cm²", "W",   "W/m²", "kW/m²",
                                       "lm", "lux", "deg", "mrad", "s",  "dB", "dBi", "Hz",  "kHz", "MHz",  "GHz"};
  const auto is_glue = [&](std::string_view text) { return std::find(std::begin(glue), std::end(glue), text) != std::end(glue); };
  if (before == "±" || before == "×" || before == "=") return true;
  if (before.empty() || before.back() < '0' || before.back() > '9') return false;
  const std::size_t end = word.find_last_not_of(".,;:)");
  return end != std::string_view::npos && is_glue(word.substr(0, end + 1));
}

/// Words and groups of words that must share a line.
std::vector<std::string> unbroken(std::string_view text) {
  std::vector<std::string> groups;
  std::string_view before;
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t to = std::min(text.find(' ', from), text.size());
    const std::string_view word = text.substr(from, to - from);
    from = to + 1;
    if (word.empty()) continue;
    if (!groups.empty() && belong_together(before, word)) {
      groups.back() += " " + std::string(word);
    } else {
      groups.emplace_back(word);
    }
    before = word;
  }
  return groups;
}

}  // namespace

int characters(std::string_view text) {
  // Bytes 10xxxxxx continue a character.
  return static_cast<int>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string flush_right(const std::string& text, int width) { return spaces(width - characters(text)) + text; }
std::string flush_left(const std::string& text, int width) { return text + spaces(width - characters(text)); }

std::string wrapped(std::string_view text, const std::string& first, const std::string& rest) {
  std::string out, line = first;
  bool empty = true;
  for (const std::string& word : unbroken(text)) {
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
