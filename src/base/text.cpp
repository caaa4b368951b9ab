// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <algorithm>

namespace dishwright {

namespace {

bool is_later_byte(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

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
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t size = character_size(text, i);
    const auto first = static_cast<unsigned char>(text[i]);
    const bool control = (first < 0x20U && first != '\t') || first == 0x7FU;
    const bool late_control = size == 2 && first == 0xC2U && static_cast<unsigned char>(text[i + 1]) < 0xA0U;
    if (size == 0 || control || late_control) {
      out += '?';
    } else {
      out += text.substr(i, size);
    }
    i += std::max<std::size_t>(size, 1);
  }
  return out;
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
