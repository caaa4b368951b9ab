// SPDX-License-Identifier: MIT
#include "base/decimal.h"

#include <cctype>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <string>
#include <string_view>
#include <version>

namespace dishwright {

namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::size_t digits_from(std::string_view text, std::size_t at) {
  const std::size_t from = at;
  while (at < text.size() && is_digit(text[at])) ++at;
  return at - from;
}

/// How many characters of `text` are a number in digits, with a sign, a point and an exponent where there are; 0: it is none.
std::size_t length_of_number(std::string_view text) {
  std::size_t at = text.starts_with('-') ? 1 : 0;
  const std::size_t whole = digits_from(text, at);
  at += whole;
  if (at < text.size() && text[at] == '.') {
    const std::size_t fraction = digits_from(text, at + 1);
    if (whole + fraction == 0) return 0;
    at += 1 + fraction;
  } else if (whole == 0) {
    return 0;
  }
  if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
    const std::size_t sign = at + 1 < text.size() && (text[at + 1] == '-' || text[at + 1] == '+') ? 1 : 0;
    const std::size_t power = digits_from(text, at + 1 + sign);
    if (power > 0) at += 1 + sign + power;
  }
  return at;
}

bool begins_with_word(std::string_view text, std::string_view word) {
  if (text.size() < word.size()) return false;
  for (std::size_t k = 0; k < word.size(); ++k)
    if (std::tolower(static_cast<unsigned char>(text[k])) != word[k]) return false;
  return true;
}

/// How many characters are "inf", "infinity" or "nan" with a sign where there is one; 0: none of them.
std::size_t length_of_word(std::string_view text) {
  const std::size_t sign = text.starts_with('-') ? 1 : 0;
  for (const std::string_view word : {"infinity", "inf", "nan"})
    if (begins_with_word(text.substr(sign), word)) return sign + word.size();
  return 0;
}

}  // namespace

std::from_chars_result decimal_by_strtod(const char* first, const char* last, double& value) {
  const std::string_view text(first, static_cast<std::size_t>(last - first));
  std::size_t length = length_of_number(text);
  const bool digits = length > 0;
  if (!digits) length = length_of_word(text);
  if (length == 0) return {first, std::errc::invalid_argument};
  const double read = std::strtod(std::string(text.substr(0, length)).c_str(), nullptr);
  const char* end = first + length;
  const bool zero_written = text.substr(0, length).find_first_of("123456789") == std::string_view::npos ||
                            text.substr(0, length).find_first_of("123456789") > text.find_first_of("eE");
  if (digits && (std::isinf(read) || (read == 0 && !zero_written))) return {end, std::errc::result_out_of_range};
  value = read;
  return {end, std::errc()};
}

std::from_chars_result decimal_from(const char* first, const char* last, double& value) {
#ifdef __cpp_lib_to_chars
  return std::from_chars(first, last, value);
#else
  return decimal_by_strtod(first, last, value);
#endif
}

}  // namespace dishwright
