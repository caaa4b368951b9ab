// SPDX-License-Identifier: MIT
#include "command/typed_name.h"

#include <algorithm>

#include "base/text.h"

namespace dishwright {

namespace {

/// The word that begins at `from`, up to a blank, a line's end or a mark.
std::string_view word_at(std::string_view text, std::size_t from) {
  return text.substr(from, text.find_first_of(" \n`,.;:)", from) - from);
}

/// A command begins where the name stands alone and a command's word or an option follows.
bool begins_command(std::string_view text, std::size_t at) {
  if (at > 0 && std::string_view(" \n`(").find(text[at - 1]) == std::string_view::npos) return false;
  const std::size_t next = at + plain_program_name.size();
  if (next >= text.size() || text[next] != ' ') return false;
  const std::string_view word = word_at(text, next + 1);
  const std::vector<std::string>& names = command_names();
  return word.starts_with("--") || word == "COMMAND" || std::find(names.begin(), names.end(), word) != names.end();
}

}  // namespace

std::string typed_name(int argc, char** argv) {
  const std::string typed = argc > 0 && argv[0] != nullptr ? argv[0] : "";
  return typed.empty() ? std::string(plain_program_name) : shell_word(typed);
}

const std::vector<std::string>& command_names() {
  static const std::vector<std::string> names = {"new", "trace", "compare", "sweep", "tolerance",
                                                 "aim", "heat",  "survey",  "page"};
  return names;
}

std::string as_typed(std::string_view text, const std::string& program) {
  std::string out;
  std::size_t from = 0;
  for (std::size_t at = text.find(plain_program_name); at != std::string_view::npos;
       at = text.find(plain_program_name, at + plain_program_name.size())) {
    if (!begins_command(text, at)) continue;
    out += text.substr(from, at - from);
    out += program;
    from = at + plain_program_name.size();
  }
  return out + std::string(text.substr(from));
}

InputError as_typed(const InputError& error, const std::string& program) {
  std::vector<Problem> problems = error.problems();
  for (Problem& problem : problems) {
    problem.why = as_typed(problem.why, program);
    problem.fix = as_typed(problem.fix, program);
  }
  return InputError(std::move(problems));
}

}  // namespace dishwright
