// SPDX-License-Identifier: MIT
#include "report/numbers/text_layout.h"

#include <algorithm>
#include <iterator>
#include <vector>

#include "base/text.h"

namespace dishwright {

namespace {

std::string spaces(int count) { return std::string(static_cast<std::size_t>(std::max(0, count)), ' '); }

/// A number stays with its ± and its unit.
bool belong_together(std::string_view before, std::string_view word) {
  constexpr std::string_view glue[] = {"±",     "×",   "=",   "%",   "in",   "mm",  "in²", "cm²", "W",  "W/m²",
                                       "kW/m²", "lm",  "lux", "deg", "mrad", "s",   "dB",  "dBi", "Hz", "kHz",
                                       "MHz",   "GHz", "°F",  "°C",  "mph",  "m/s", "kPa", "min", "K"};
  const auto is_glue = [&](std::string_view text) { return std::find(std::begin(glue), std::end(glue), text) != std::end(glue); };
  if (before == "±" || before == "×" || before == "=") return true;
  if (before.empty() || before.back() < '0' || before.back() > '9') return false;
  const std::size_t bar = word.find('/');  // of 55 3/4 in
  if (bar != std::string_view::npos && bar > 0 && word.find_first_not_of("0123456789/") == std::string_view::npos) return true;
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

struct Range {
  char32_t first, last;
};

bool is_in(char32_t code, const Range* from, const Range* to) {
  return std::any_of(from, to, [code](const Range& range) { return code >= range.first && code <= range.last; });
}

/// Blocks of the Unicode standard (chapters 7 and 18 to 22): marks that stand over the letter before; East Asian letters and
/// pictures.
int columns_of(char32_t code) {
  static constexpr Range marks[] = {{0x0300, 0x036F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x200B, 0x200F},
                                    {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}};
  static constexpr Range wide[] = {{0x1100, 0x115F},   {0x2E80, 0x303E},   {0x3041, 0xA4CF},  {0xAC00, 0xD7A3},
                                   {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},   {0xFF00, 0xFF60},  {0xFFE0, 0xFFE6},
                                   {0x1F300, 0x1F64F}, {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD}};
  if (is_in(code, std::begin(marks), std::end(marks))) return 0;
  return is_in(code, std::begin(wide), std::end(wide)) ? 2 : 1;
}

}  // namespace

int characters(std::string_view text) {
  int columns = 0;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t size = std::max<std::size_t>(1, character_size(text, i));
    columns += columns_of(code_point(text.substr(i, size)));
    i += size;
  }
  return columns;
}

std::string flush_right(const std::string& text, int width) { return spaces(width - characters(text)) + text; }
std::string flush_left(const std::string& text, int width) { return text + spaces(width - characters(text)); }

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string joined_sentences(const std::string& first, const std::string& second) {
  return first + (first.empty() || second.empty() ? "" : " ") + second;
}

std::string labelled(const std::string& label, std::string_view text, int width) {
  const std::string pad = spaces(width);
  if (characters(label) + 4 > width) return "  " + label + "\n" + wrapped(text, pad, pad);
  return wrapped(text, "  " + flush_left(label, width - 2), pad);
}

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
