// SPDX-License-Identifier: MIT
#include "base/error.h"

#include <fmt/format.h>

#include "base/text.h"

namespace dishwright {

namespace {

std::string place_of(const Problem& problem) {
  if (problem.file.empty()) return "";
  const std::string file = printable(problem.file);
  if (problem.line == 0) return fmt::format("{}: ", file);
  return fmt::format("{}:{}:{}: ", file, problem.line, problem.column);
}

std::string describe_all(const std::vector<Problem>& problems) {
  std::string text;
  for (const Problem& problem : problems) text += describe(problem);
  return text;
}

}  // namespace

std::string describe(const Problem& problem) {
  std::string text = fmt::format("{}error: {}\n", place_of(problem), printable(problem.what));
  if (!problem.source_line.empty()) {
    // The caret stands under the same column: tabs before it are repeated as tabs.
    std::string indent;
    int column = 1;
    for (std::size_t i = 0; i < problem.source_line.size() && column < problem.column; ++i) {
      const unsigned char byte = static_cast<unsigned char>(problem.source_line[i]);
      if ((byte & 0xC0U) == 0x80U) continue;  // a later byte of one UTF-8 character
      indent += byte == '\t' ? '\t' : ' ';
      ++column;
    }
    text += fmt::format("  {}\n  {}{}\n", printable(problem.source_line), indent,
                        std::string(static_cast<std::size_t>(problem.width < 1 ? 1 : problem.width), '^'));
  }
  if (!problem.why.empty()) text += fmt::format("  why: {}\n", printable(problem.why));
  if (!problem.fix.empty()) text += fmt::format("  fix: {}\n", printable(problem.fix));
  if (!problem.named_by.empty()) text += fmt::format("  named by: {}\n", printable(problem.named_by));
  return text;
}

InputError::InputError(std::vector<Problem> problems)
    : std::runtime_error(describe_all(problems)), problems_(std::move(problems)) {}

InputError::InputError(std::string what, std::string why, std::string fix, std::string key)
    : InputError(
          std::vector<Problem>{Problem{"", 0, 0, 1, "", std::move(what), std::move(why), std::move(fix), {}, std::move(key)}}) {}

}  // namespace dishwright
