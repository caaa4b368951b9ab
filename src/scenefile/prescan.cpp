// SPDX-License-Identifier: MIT
// A look at the text before the TOML library sees it. toml++ 3.3 has no bound on the depth of dotted keys, takes for granted that
// a header begins with a key, and leaves its defined behaviour for some characters above ASCII outside of a text and after a
// backslash in a text of several lines.
#include <fmt/format.h>

#include <algorithm>

#include "scenefile/syntax.h"

namespace dishwright {

namespace {

constexpr int deepest = 50;  // brackets inside brackets, dots in one key

enum class Fault { none, too_deep, three_quotes, outside_quotes, bad_header, stray_quote };

/// Follows quotes, comments and brackets through a text, up to the first fault.
class Scan {
 public:
  explicit Scan(std::string_view text) : text_(text) {}

  Fault find() {
    Fault fault = Fault::none;
    while (at_ < text_.size() && fault == Fault::none) fault = step();
    return fault;
  }
  int line() const { return line_; }
  bool in_list() const { return depth_ > 0; }
  /// The text of the line up to the fault.
  std::string_view before() const { return text_.substr(line_start_, at_ - line_start_); }

 private:
  Fault step() {
    const char c = text_[at_];
    if (c == '"' || c == '\'') {
      if (!may_open_text()) return Fault::stray_quote;
      if (text_.substr(at_, 3) == std::string(3, c)) return Fault::three_quotes;
      skip_text(c);
      return Fault::none;
    }
    if (c == '#') {
      at_ = std::min(text_.find('\n', at_), text_.size());
      return Fault::none;
    }
    if ((c & '\x80') != 0) return Fault::outside_quotes;
    if (c == '[' && depth_ == 0 && is_blank(before()) && !begins_header()) return Fault::bad_header;
    if (c == '[' || c == '{') ++depth_;
    if (c == ']' || c == '}') depth_ = std::max(0, depth_ - 1);
    if (c == '.') ++dots_;
    if (c == ',' || c == '\n') dots_ = 0;
    if (depth_ > deepest || dots_ > deepest) return Fault::too_deep;
    ++at_;
    if (c == '\n') {
      ++line_;
      line_start_ = at_;
      line_depth_ = depth_;
    }
    return Fault::none;
  }

  static bool is_blank(std::string_view text) { return text.find_first_not_of(" \t") == std::string_view::npos; }

  // A text begins where a value or a part of a key begins; elsewhere the library walks over the quote as a part of a number.
  bool may_open_text() const {
    if (at_ == line_start_) return true;
    const char last = text_[at_ - 1];
    if (last == '.') return line_depth_ == 0 && before().find('=') == std::string_view::npos;
    return last == ' ' || last == '\t' || last == '=' || last == ',' || last == '[' || last == '{';
  }

  // After [ or [[ and blanks stands a key, or ] (which the library refuses itself).
  bool begins_header() const {
    std::size_t next = at_ + 1;
    if (next < text_.size() && text_[next] == '[') ++next;
    next = std::min(text_.find_first_not_of(" \t", next), text_.size());
    const char c = next < text_.size() ? text_[next] : '\0';
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    return letter || (c >= '0' && c <= '9') || c == '_' || c == '-' || c == '"' || c == '\'' || c == ']';
  }

  // To the closing quote, or the end of the line where there is none.
  void skip_text(char quote) {
    ++at_;
    while (at_ < text_.size() && text_[at_] != '\n') {
      const char c = text_[at_];
      const bool escaped = c == '\\' && quote == '"' && at_ + 1 < text_.size() && text_[at_ + 1] != '\n';
      at_ += escaped ? 2 : 1;
      if (c == quote) return;
    }
  }

  std::string_view text_;
  std::size_t at_ = 0, line_start_ = 0;
  int line_ = 1, line_depth_ = 0, depth_ = 0, dots_ = 0;
};

}  // namespace

std::optional<Problem> prescan(const Source& source) {
  Scan scan(source.text());
  const Fault fault = scan.find();
  const Place place{scan.line(), character_count(scan.before()) + 1, 1, -1};
  if (fault == Fault::none) return std::nullopt;
  if (fault == Fault::stray_quote) {
    const bool in_key = scan.before().find('=') == std::string_view::npos;
    return explain_syntax(source, place,
                          scan.in_list() ? "parsing array"
                          : in_key       ? "expected '='"
                                         : "expected a comment or whitespace");
  }
  if (fault == Fault::bad_header) return explain_syntax(source, place, "table header");
  if (fault == Fault::outside_quotes) return explain_syntax(source, place, outside_of_quotes);
  if (fault == Fault::three_quotes) {
    Place three = place;
    three.width = 3;
    return source.problem(three, "a text in three quote marks is not read", "every value of a project file stands on one line",
                          "write it in one pair of quotes, such as \"24 in\"");
  }
  return source.problem(place, "too many brackets or dots inside each other",
                        fmt::format("a project file nests {} deep at most", deepest),
                        "start from the file that `dishwright new` writes");
}

}  // namespace dishwright
