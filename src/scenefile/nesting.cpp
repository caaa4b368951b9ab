// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>

#include "scenefile/syntax.h"

namespace dishwright {

namespace {

constexpr int deepest = 50;  // brackets inside brackets, dots in one key

/// Follows quotes, comments and brackets through a text, without building anything.
class NestingScan {
 public:
  explicit NestingScan(std::string_view text) : text_(text) {}

  /// Line of the first place that nests too deep; 0 = none.
  int too_deep() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '\n') {
        ++line_;
        dots_ = 0;
        ++at_;
      } else if (c == '"' || c == '\'') {
        skip_text(c);
      } else if (c == '#') {
        while (at_ < text_.size() && text_[at_] != '\n') ++at_;
      } else {
        if (c == '[' || c == '{') ++depth_;
        if (c == ']' || c == '}') depth_ = std::max(0, depth_ - 1);
        if (c == '.') ++dots_;
        if (c == ',') dots_ = 0;
        if (depth_ > deepest || dots_ > deepest) return line_;
        ++at_;
      }
    }
    return 0;
  }

 private:
  void skip_text(char quote) {
    const bool long_text = at_ + 2 < text_.size() && text_[at_ + 1] == quote && text_[at_ + 2] == quote;
    at_ += long_text ? 3 : 1;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '\n' && !long_text) return;
      if (c == '\n') ++line_;
      if (c == '\\' && quote == '"') {
        if (at_ + 1 < text_.size() && text_[at_ + 1] == '\n') ++line_;
        at_ += 2;
        continue;
      }
      ++at_;
      if (c != quote) continue;
      if (!long_text) return;
      if (at_ + 1 < text_.size() && text_[at_] == quote && text_[at_ + 1] == quote) {
        at_ += 2;
        // Up to two more marks belong to the text before its end.
        for (int i = 0; i < 2 && at_ < text_.size() && text_[at_] == quote; ++i) ++at_;
        return;
      }
    }
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1, depth_ = 0, dots_ = 0;
};

}  // namespace

void check_nesting(const Source& source) {
  const int line = NestingScan(source.text()).too_deep();
  if (line == 0) return;
  throw InputError(std::vector<Problem>{source.problem({line, 1, 1, -1}, "too many brackets or dots inside each other",
                                                       fmt::format("a project file nests {} deep at most", deepest),
                                                       "start from the file that `dishwright new` writes")});
}

}  // namespace dishwright
