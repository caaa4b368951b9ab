// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <fmt/format.h>

#include <algorithm>

namespace dishwright {

namespace {

bool is_later_byte(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// Moves a terminal's cursor, changes its state, or turns the direction in which the text about it is shown (Unicode's
/// embeddings, overrides and isolates, and its separators of lines and paragraphs).
bool is_control(unsigned code) {
  return (code < 0x20U && code != '\t') || (code >= 0x7FU && code < 0xA0U) || (code >= 0x2028U && code <= 0x202EU) ||
         (code >= 0x2066U && code <= 0x2069U);
}

/// The text with `instead` of each character that does not go to a terminal; an empty character stands for a byte that is not
/// UTF-8.
template <class Instead>
std::string rewritten(std::string_view text, bool keep_line_ends, const Instead& instead) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const std::string_view character = text.substr(i, character_size(text, i));
    const bool line_end = keep_line_ends && text[i] == '\n';
    if (!line_end && (character.empty() || is_control(static_cast<unsigned>(code_point(character))))) {
      out += instead(character);
    } else {
      out += character;
    }
    i += std::max<std::size_t>(character.size(), 1);
  }
  return out;
}

}  // namespace

std::size_t character_size(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0U; };
  const unsigned first = byte(0);
  if (first < 0x80U) return 1;
  const std::size_t size = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
  if (first < 0xC2U || first > 0xF4U) return 0;
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return 0;
  }
  const bool overlong = (first == 0xE0U && byte(1) < 0xA0U) || (first == 0xF0U && byte(1) < 0x90U);
  const bool outside = (first == 0xEDU && byte(1) >= 0xA0U) || (first == 0xF4U && byte(1) >= 0x90U);
  return overlong || outside ? 0 : size;
}

char32_t code_point(std::string_view character) {
  const auto byte = [&](std::size_t i) { return static_cast<char32_t>(static_cast<unsigned char>(character[i])); };
  const std::size_t size = character.empty() ? 0 : character_size(character, 0);
  if (size < 2) return character.empty() ? 0 : byte(0);
  char32_t code = byte(0) & (0xFFU >> (size + 1));
  for (std::size_t i = 1; i < size; ++i) code = (code << 6U) | (byte(i) & 0x3FU);
  return code;
}

int first_line_not_utf8(std::string_view text) {
  int line = 1;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t size = character_size(text, i);
    if (size == 0) return line;
    if (text[i] == '\n') ++line;
    i += size;
  }
  return 0;
}

std::string printable(std::string_view text) {
  return rewritten(text, false, [](std::string_view) { return std::string("?"); });
}

std::string printable_lines(std::string_view text) {
  return rewritten(text, true, [](std::string_view) { return std::string("?"); });
}

std::string printable_json(std::string_view json) {
  return rewritten(json, true, [](std::string_view character) {
    return fmt::format("\\u{:04x}", character.empty() ? 0xFFFDU : static_cast<unsigned>(code_point(character)));
  });
}

std::string shell_word(std::string_view file) {
  std::string word = (file.empty() || file.front() != '-' ? "" : "./") + std::string(file);
  const auto plain = [](char c) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    return letter || std::string_view("_-./+:@%,").find(c) != std::string_view::npos || (c & '\x80') != 0;
  };
  const bool showable = printable(word) == word && word.find('\t') == std::string::npos;
  if (!word.empty() && showable && std::all_of(word.begin(), word.end(), plain)) return word;
  // In $'…' every byte can be written; bash, zsh and ksh know it.
  std::string out = showable ? "'" : "$'";
  for (const char c : word) {
    if (showable) {
      out += c == '\'' ? "'\\''" : std::string(1, c);
    } else if (c == '\'' || c == '\\') {
      out += {'\\', c};
    } else {
      out += c >= 0x20 && c < 0x7F ? std::string(1, c) : fmt::format("\\{:03o}", static_cast<unsigned char>(c));
    }
  }
  return out + "'";
}

std::string clipped(std::string_view text, int most) {
  std::string out;
  int count = 0;
  for (const char c : text) {
    if (!is_later_byte(c) && ++count > most) return printable(out) + "…";
    out += c;
  }
  return printable(out);
}

int character_count(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) { return !is_later_byte(c); }));
}

}  // namespace dishwright
