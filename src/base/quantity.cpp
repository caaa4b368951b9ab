// SPDX-License-Identifier: MIT
#include "base/quantity.h"

#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "base/decimal.h"
#include "base/nearest.h"
#include "base/quantity_text.h"

namespace dishwright {

namespace {

bool begins_with_any(std::string_view text, std::initializer_list<std::string_view> starts) {
  for (const std::string_view start : starts) {
    if (text.substr(0, start.size()) == start) return true;
  }
  return false;
}
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// One number with its unit inside a quantity.
struct Part {
  double number = 0;
  bool whole = true;           // no fraction, no decimal point
  const Unit* unit = nullptr;  // null: none written
};

/// Reads the plain text from left to right.
class Scanner {
 public:
  Scanner(const std::string& text, Dimension wanted) : text_(text), wanted_(wanted) {}

  std::variant<Quantity, BadQuantity> read() {
    if (text_.empty()) return bad("is empty", fmt::format("a quantity is a number{}", unit_phrase()), "");
    const bool negative = take('-');
    if (!negative) take('+');
    take(' ');
    while (true) {
      if (!read_number() || !read_unit()) return *bad_;
      skip_between();
      if (at_ == text_.size()) break;
      if (!starts_number()) return left_over();
    }
    return combine(negative);
  }

 private:
  char peek(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  bool take(char c) {
    if (peek() != c) return false;
    ++at_;
    return true;
  }
  bool starts_number() const { return is_digit(peek()) || (peek() == '.' && is_digit(peek(1))); }
  std::string known_units() const {
    if (wanted_ == Dimension::number) return "a pure number takes no unit, or %";
    return fmt::format("units for {}: {}", dimension_word(wanted_), usual_units(wanted_));
  }
  std::string unit_phrase() const { return wanted_ == Dimension::number ? "" : " with its unit: " + usual_units(wanted_); }

  BadQuantity bad(std::string what, std::string why, std::string fix) {
    bad_ = BadQuantity{std::move(what), std::move(why), std::move(fix)};
    return *bad_;
  }
  bool fail(std::string what, std::string why, std::string fix) {
    bad(std::move(what), std::move(why), std::move(fix));
    return false;
  }

  // Between parts: spaces, a comma ("2 ft, 6 in"), or the dash of drawings (2'-6").
  void skip_between() {
    take(' ');
    if (peek() == ',' && peek(1) == ' ') at_ += 2;
    if (peek() == '-' && is_digit(peek(1)) && !parts_.empty() && parts_.back().unit != nullptr &&
        parts_.back().unit->shown == "ft")
      ++at_;
  }

  std::string take_digits() {
    const std::size_t from = at_;
    while (is_digit(peek())) ++at_;
    return text_.substr(from, at_ - from);
  }

  // "/8" after `above` digits, as a fraction.
  bool read_fraction(const std::string& above, bool mixed, double& value) {
    take('/');
    const std::string below = take_digits();
    if (peek() == '/') return refuse_fraction("divides twice");
    if (peek() == '.' && is_digit(peek(1))) return refuse_fraction("has a decimal point in a fraction");
    const double top = std::stod(above.substr(0, 300)), bottom = std::stod(below.substr(0, 300));
    if (bottom == 0) {
      return fail(fmt::format("divides by zero: {}/{}", above, below), "nothing can be cut into 0 parts",
                  "write a fraction such as 1/2 or 3/16");
    }
    if (mixed && top >= bottom) {
      return fail(fmt::format("has the fraction {}/{} after a whole number", above, below), "that fraction is not less than 1",
                  "write the reduced number, such as 3 1/4");
    }
    value = top / bottom;
    return true;
  }

  bool fraction_follows() const {
    std::size_t i = at_;
    while (i < text_.size() && is_digit(text_[i])) ++i;
    return i > at_ && i + 1 < text_.size() && text_[i] == '/' && is_digit(text_[i + 1]);
  }

  bool refuse_comma() {
    return fail("has a comma in its number", "a comma can mean thousands or decimals, so it is not read",
                "write thousands without a mark (1500) and decimals with a point (1.5)");
  }

  bool refuse_fraction(const char* what) {
    return fail(what, "a fraction is one whole number over another", "write it like 3/8, 3 1/2 or 0.375");
  }

  bool read_number() {
    Part part;
    if (!starts_number()) {
      const std::string_view rest = std::string_view(text_).substr(at_);
      if (rest.size() > 1 && rest[0] == ',' && is_digit(rest[1])) return refuse_comma();
      if (begins_with_any(rest, {"nan", "NaN", "NAN", "inf", "Inf", "INF", "\u221e"})) {
        return fail("is not a number that can be measured", "NaN and infinity have no place in a project file", "");
      }
      return fail("does not start with a number", fmt::format("a quantity is a number{}", unit_phrase()), "");
    }
    if (fraction_follows()) {
      part.whole = false;
      const std::string above = take_digits();
      if (!read_fraction(above, false, part.number)) return false;
      parts_.push_back(part);
      return true;
    }
    const std::size_t from = at_;
    take_digits();
    if (peek() == '.' && is_digit(peek(1))) {
      ++at_;
      take_digits();
      part.whole = false;
    } else if (peek() == '.' && peek(1) != '.') {
      ++at_;  // "24." is 24
      part.whole = false;
    }
    read_exponent(part);
    if (peek() == ',' && is_digit(peek(1))) return refuse_comma();
    if (peek() == '/' && is_digit(peek(1))) return refuse_fraction("has a decimal point in a fraction");
    if (!convert(text_.substr(from, at_ - from), part.number)) return false;
    return read_mixed(part);
  }

  void read_exponent(Part& part) {
    const std::size_t sign = peek(1) == '-' || peek(1) == '+' ? 1 : 0;
    if ((peek() != 'e' && peek() != 'E') || !is_digit(peek(1 + sign))) return;
    at_ += 1 + sign;
    take_digits();
    part.whole = false;
  }

  bool convert(const std::string& digits, double& value) {
    const auto [end, error] = decimal_from(digits.data(), digits.data() + digits.size(), value);
    if (error == std::errc() && std::isfinite(value)) return true;
    return fail("is too large or too small for any measurement", "numbers reach from about 1e-308 to 1e308", "");
  }

  // The fraction of a mixed number: "3 1/2", "3-1/2".
  bool read_mixed(Part& part) {
    const std::size_t before = at_;
    const bool joined = take(' ') || take('-');
    double fraction = 0;
    if (joined && fraction_follows()) {
      if (!part.whole)
        return fail("has a fraction after a decimal number", "only a whole number can carry a fraction", "write 3 1/2 or 3.5");
      const std::string above = take_digits();
      if (!read_fraction(above, true, fraction)) return false;
      part.number += fraction;
      part.whole = false;
    } else {
      at_ = before;
    }
    parts_.push_back(part);
    return true;
  }

  // The longest unit that is written here; units of the wanted dimension go first (' is feet or minutes of arc).
  const Unit* find_unit(bool wanted_only) const {
    const Unit* best = nullptr;
    const std::string_view rest = std::string_view(text_).substr(at_);
    for (const Unit& unit : all_units()) {
      if (wanted_only && unit.dimension != wanted_) continue;
      if (rest.substr(0, unit.symbol.size()) != unit.symbol) continue;
      const char next = rest.size() > unit.symbol.size() ? rest[unit.symbol.size()] : '\0';
      const bool word = is_letter(unit.symbol.back()) || is_digit(unit.symbol.back());
      const bool goes_on = is_letter(next) || next == '/' || next == '%' || (next & '\x80') != 0;
      if (word && goes_on) continue;
      if (best == nullptr || unit.symbol.size() > best->symbol.size()) best = &unit;
    }
    return best;
  }

  bool read_unit() {
    const std::size_t before = at_;
    take(' ');
    if (at_ == text_.size()) {
      if (wanted_ == Dimension::number && parts_.size() == 1) return true;
      return no_unit();
    }
    const Unit* unit = find_unit(true);
    if (unit == nullptr) unit = find_unit(false);
    if (unit == nullptr) {
      at_ = before;
      return unknown_unit();
    }
    at_ += unit->symbol.size();
    if (peek() == '.' && is_letter(unit->symbol.back()) && !is_digit(peek(1))) ++at_;  // "in."
    parts_.back().unit = unit;
    return true;
  }

  bool no_unit() {
    const std::string which = parts_.size() > 1 ? "has no unit after its last number" : "has no unit";
    std::string fix;
    if (parts_.size() == 1) {
      const auto [first, second] = two_usual_units(wanted_);
      fix = fmt::format("write \"{0} {1}\" or \"{0} {2}\"", text_, first, second);
    }
    return fail(which, fmt::format("{} needs its unit: {}", dimension_word(wanted_), usual_units(wanted_)), fix);
  }

  bool unknown_unit() {
    take(' ');
    std::size_t end = at_;
    while (end < text_.size() && !(text_[end] == ' ' && end + 1 < text_.size() && is_digit(text_[end + 1]))) ++end;
    const std::string word = text_.substr(at_, end - at_);
    std::vector<std::string> known;
    for (const Unit& unit : all_units()) {
      if (unit.dimension == wanted_ && is_letter(unit.symbol.front())) known.emplace_back(unit.symbol);
    }
    const std::string nearest = nearest_word(word, known);
    const std::string fix =
        nearest.empty() ? "" : fmt::format("write \"{}{}{}\"", text_.substr(0, at_), nearest, text_.substr(end));
    const std::string rest = is_letter(word.front()) || word.front() == '/' ? "the unit" : "the text";
    return fail(fmt::format("has {} \"{}\", which is not known", rest, word), known_units(), fix);
  }

  BadQuantity left_over() {
    return bad(fmt::format("goes on with \"{}\" after its unit", text_.substr(at_)), "one quantity is one number and its unit",
               "");
  }

  // Adds the parts up, after checking that they belong together.
  std::variant<Quantity, BadQuantity> combine(bool negative) {
    double sum = 0;
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      const Part& part = parts_[i];
      if (part.unit == nullptr) {
        sum = part.number;
        continue;
      }
      if (i > 0 && !follows(parts_[i - 1], part)) return *bad_;
      sum += part.number * part.unit->scale;
    }
    const Unit* unit = parts_.front().unit;
    if (unit != nullptr && unit->dimension != wanted_) {
      return bad(fmt::format("is {}, not {}", dimension_word(unit->dimension), dimension_word(wanted_)), known_units(), "");
    }
    const double value = (negative ? -sum : sum) + (unit != nullptr ? unit->zero : 0);
    if (!std::isfinite(value)) return bad("is too large for any measurement", "numbers reach up to about 1e308", "");
    return Quantity{value, unit};
  }

  bool follows(const Part& before, const Part& part) {
    if (part.unit->dimension != before.unit->dimension) {
      return fail(fmt::format("mixes {} and {}", dimension_word(before.unit->dimension), dimension_word(part.unit->dimension)),
                  "one quantity measures one thing", "");
    }
    const bool one_chain = before.unit->chain != 0 && before.unit->chain == part.unit->chain;
    if (!one_chain || part.unit->scale >= before.unit->scale) {
      return fail(fmt::format("puts {} after {}", part.unit->shown, before.unit->shown),
                  "the parts of one quantity go from large to small, in units that belong together",
                  "write it like 2 ft 6 in, or in one unit");
    }
    if (!before.whole) {
      return fail(fmt::format("has a part of one {} and then {}", before.unit->shown, part.unit->shown),
                  "only the last part of a quantity may have a fraction", "write it like 2 ft 6 1/2 in, or in one unit");
    }
    if (part.number * part.unit->scale >= before.unit->scale * (1 - 1e-12)) {
      return fail(fmt::format("has {} {} after the {}", short_number(part.number), part.unit->shown, before.unit->shown),
                  fmt::format("that is 1 {} or more, so it may be a slip", before.unit->shown),
                  "carry it over, as in 3 ft 2 in, or write it in one unit");
    }
    return true;
  }

  const std::string& text_;
  Dimension wanted_;
  std::size_t at_ = 0;
  std::vector<Part> parts_;
  std::optional<BadQuantity> bad_;
};

}  // namespace

std::variant<Quantity, BadQuantity> parse_quantity(std::string_view text, Dimension wanted) {
  constexpr std::size_t longest = 200;  // characters; no quantity is longer
  if (text.size() > longest) return BadQuantity{"is too long for a quantity", "one quantity is one number and its unit", ""};
  const std::string plain_text = plain_quantity(text);
  if (auto other = other_notation(plain_text)) return *std::move(other);
  return Scanner(plain_text, wanted).read();
}

}  // namespace dishwright
