// SPDX-License-Identifier: MIT
#include "base/quantity_text.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "base/decimal.h"
#include "base/text.h"

namespace dishwright {

namespace {

/// Signs that people's keyboards and word processors put in, and the plain text they stand for.
struct PlainText {
  std::string_view sign, plain;
};
constexpr PlainText plain_texts[] = {
    {"\u00a0", " "},    {"\u2002", " "},     {"\u2003", " "},    {"\u2007", " "},    {"\u2009", " "},    {"\u202f", " "},
    {"\u3000", " "},    {"\u2212", "-"},     {"\u2010", "-"},    {"\u2011", "-"},    {"\u2013", "-"},    {"\u2032", "'"},
    {"\u2018", "'"},    {"\u2019", "'"},     {"\u2033", "\""},   {"\u201c", "\""},   {"\u201d", "\""},   {"\u00b0", "deg"},
    {"\u00ba", "deg"},  {"\u02da", "deg"},   {"\u00b5", "u"},    {"\u03bc", "u"},    {"\u2044", "/"},    {"\u00d7", "*"},
    {"\u00b7", "*"},    {"\u22c5", "*"},     {"\u00bd", " 1/2"}, {"\u2153", " 1/3"}, {"\u2154", " 2/3"}, {"\u00bc", " 1/4"},
    {"\u00be", " 3/4"}, {"\u2155", " 1/5"},  {"\u2156", " 2/5"}, {"\u2157", " 3/5"}, {"\u2158", " 4/5"}, {"\u2159", " 1/6"},
    {"\u215a", " 5/6"}, {"\u2150", " 1/7"},  {"\u215b", " 1/8"}, {"\u215c", " 3/8"}, {"\u215d", " 5/8"}, {"\u215e", " 7/8"},
    {"\u2151", " 1/9"}, {"\u2152", " 1/10"}, {"\t", " "},        {"\n", " "},        {"\r", " "},
};

/// Raised digits and signs. A run of them is an exponent.
constexpr PlainText raised_texts[] = {
    {"\u2070", "0"}, {"\u00b9", "1"}, {"\u00b2", "2"}, {"\u00b3", "3"}, {"\u2074", "4"}, {"\u2075", "5"},
    {"\u2076", "6"}, {"\u2077", "7"}, {"\u2078", "8"}, {"\u2079", "9"}, {"\u207a", "+"}, {"\u207b", "-"},
};

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// The row whose sign stands at the front of the text; null where none does.
template <std::size_t count>
const PlainText* at_front(const PlainText (&rows)[count], std::string_view text) {
  for (const PlainText& row : rows) {
    if (text.substr(0, row.sign.size()) == row.sign) return &row;
  }
  return nullptr;
}

/// Reads a raised run or ^ with what follows; `size` is how many bytes that is. Empty where there is none.
std::string exponent_at(std::string_view text, std::size_t& size) {
  std::string exponent;
  size = 0;
  while (const PlainText* row = at_front(raised_texts, text.substr(size))) exponent += row->plain, size += row->sign.size();
  if (size > 0 || text.empty() || text.front() != '^') return exponent;
  for (size = 1; size < text.size() && is_digit(text[size]); ++size) exponent += text[size];
  return exponent;
}

/// One space between words, none at the ends; two single primes are a double one.
std::string tidy(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == ' ' && (out.empty() || out.back() == ' ')) continue;
    if (c == '\'' && !out.empty() && out.back() == '\'') {
      out.back() = '"';
      continue;
    }
    out += c;
  }
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

/// Walks over a plain text.
class Reader {
 public:
  explicit Reader(std::string_view text) : rest_(text) {}
  bool take(std::string_view word) {
    if (!rest_.starts_with(word)) return false;
    rest_.remove_prefix(word.size());
    return true;
  }
  std::optional<double> number() {
    double value = 0;
    const auto [end, error] = decimal_from(rest_.data(), rest_.data() + rest_.size(), value);
    if (error != std::errc()) return std::nullopt;
    rest_.remove_prefix(static_cast<std::size_t>(end - rest_.data()));
    return value;
  }
  std::optional<int> whole() {
    take("+");
    int value = 0;
    const auto [end, error] = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    if (error != std::errc()) return std::nullopt;
    rest_.remove_prefix(static_cast<std::size_t>(end - rest_.data()));
    return value;
  }
  std::string_view rest() const { return rest_; }

 private:
  std::string_view rest_;
};

/// `write "2e3 mm"` for "2 * 10^3 mm"; the number worked out for other powers.
std::string without_power(std::string_view text) {
  Reader reader(text);
  const std::string sign = reader.take("-") ? "-" : "";
  std::optional<double> factor, base = reader.number();
  for (const char* times : {" * ", "*", " x ", "x", " *", "* "}) {
    if (base && !reader.rest().starts_with("**") && reader.take(times)) {
      factor = base, base = reader.number();
      break;
    }
  }
  const bool raised = reader.take("^") || reader.take("**") || reader.take(" ^ ");
  const std::optional<int> power = raised ? reader.whole() : std::nullopt;
  std::string otherwise = "write the number out, such as 1000, or with e for powers of ten, such as 1e3";
  if (!base || !power || reader.rest().find_first_of("*^") != std::string_view::npos) return otherwise;
  if (*base == 10) return fmt::format("write \"{}{}e{}{}\"", sign, factor.value_or(1), *power, reader.rest());
  const double value = factor.value_or(1) * std::pow(*base, *power);
  return std::isfinite(value) ? fmt::format("write \"{}{}{}\"", sign, value, reader.rest()) : otherwise;
}

std::optional<BadQuantity> power_or_product(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::size_t before = i > 0 && text[i - 1] == ' ' ? i - 2 : i - 1;
    const bool behind_digit = i > 0 && before < text.size() && is_digit(text[before]);
    const bool power = text[i] == '^' && behind_digit;
    if (!power && text[i] != '*') continue;
    return BadQuantity{"writes its number as a power or a product", "one plain number is read", without_power(text)};
  }
  return std::nullopt;
}

/// Bytes from `at` that are a mark between thousands and three digits, and not the numerator of a fraction; 0 where they are not.
std::size_t thousands_at(std::string_view text, std::size_t at) {
  if (at >= text.size() || (text[at] != ' ' && text[at] != '\'' && text[at] != '_' && text[at] != '.')) return 0;
  std::size_t end = at + 1;
  while (end < text.size() && is_digit(text[end])) ++end;
  return end == at + 4 && (end == text.size() || text[end] != '/') ? 4 : 0;
}

/// 1 000, 1'000, 1_000, 1.000.000. One point is a decimal point.
std::optional<BadQuantity> thousands(std::string_view text) {
  std::size_t first = 0;
  while (first < text.size() && (text[first] == '-' || text[first] == '+' || text[first] == ' ')) ++first;
  std::size_t at = first;
  while (at < text.size() && is_digit(text[at])) ++at;
  if (at == first || thousands_at(text, at) == 0) return std::nullopt;
  const char mark = text[at];
  std::string number(text.substr(first, at - first));
  int groups = 0;
  for (; thousands_at(text, at) > 0 && text[at] == mark; at += 4, ++groups) number += text.substr(at + 1, 3);
  if (mark == '.' && groups < 2) return std::nullopt;
  return BadQuantity{"has a mark between the digits of its number", "such a mark can mean more than one thing, so it is not read",
                     fmt::format("write \"{}{}{}\"", text.substr(0, first), number, text.substr(at))};
}

/// Full-width, Arabic and Devanagari digits.
std::optional<BadQuantity> other_digits(std::string_view text) {
  constexpr char32_t zeros[] = {0x0660, 0x06F0, 0x0966, 0xFF10};
  std::string ours;
  bool found = false;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t size = std::max<std::size_t>(1, character_size(text, i));
    const char32_t code = code_point(text.substr(i, size));
    std::string one(text.substr(i, size));
    for (const char32_t zero : zeros) {
      if (size > 1 && code >= zero && code <= zero + 9) one = std::string(1, static_cast<char>('0' + code - zero)), found = true;
    }
    ours += one;
    i += size;
  }
  if (!found) return std::nullopt;
  return BadQuantity{"has other digits than 0 to 9", "only those are read", fmt::format("write \"{}\"", ours)};
}

std::optional<BadQuantity> base_sixteen(std::string_view text) {
  const std::size_t from = text.starts_with("-") || text.starts_with("+") ? 1 : 0;
  const std::string_view rest = text.substr(from);
  if (rest.size() < 3 || rest[0] != '0' || (rest[1] != 'x' && rest[1] != 'X')) return std::nullopt;
  unsigned long long value = 0;
  const auto [end, error] = std::from_chars(rest.data() + 2, rest.data() + rest.size(), value, 16);
  if (end == rest.data() + 2 || error != std::errc()) return std::nullopt;
  const std::string_view unit = rest.substr(static_cast<std::size_t>(end - rest.data()));
  return BadQuantity{"is written in base 16", "numbers are read in base 10",
                     fmt::format("write \"{}{}{}\"", text.substr(0, from), value, unit)};
}

}  // namespace

std::string plain_quantity(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    std::size_t size = 0;
    const std::string exponent = exponent_at(text.substr(i), size);
    if (size > 0) {
      // Square and cubic units: m², W/m^2.
      const bool of_unit = !out.empty() && is_letter(out.back()) && (exponent == "2" || exponent == "3");
      out += of_unit ? exponent : "^" + exponent;
    } else if (const PlainText* row = at_front(plain_texts, text.substr(i))) {
      out += row->plain, size = row->sign.size();
    } else {
      out += text[i], size = 1;
    }
    i += size;
  }
  return tidy(out);
}

std::optional<BadQuantity> other_notation(std::string_view plain) {
  for (const auto& look : {power_or_product, thousands, other_digits, base_sixteen}) {
    if (auto found = look(plain)) return found;
  }
  return std::nullopt;
}

std::string in_both(double metres) {
  return fmt::format("{} ({})", format_quantity(metres, Dimension::length, &all_units().front()),
                     format_quantity(metres, Dimension::length, nullptr));
}

}  // namespace dishwright
