// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "command/completion.h"

namespace dishwright {

namespace {

std::string fish_text(const std::string& text) {
  std::string out = "'";
  for (const char c : text) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

/// What to offer, after -a; empty for anything.
std::string fish_offer(const OptionWords& option) {
  if (!option.choices.empty()) return fmt::format(" -a '{}'", fmt::join(option.choices, " "));
  if (option.folder) return " -a '(__fish_complete_directories)'";
  if (option.endings.empty()) return "";
  std::string calls;
  for (const std::string& ending : option.endings) calls += (calls.empty() ? "" : "; ") + ("__fish_complete_suffix ." + ending);
  return " -k -a '(" + calls + ")'";
}

std::string fish_option(const std::string& start, const OptionWords& option) {
  std::string line = start;
  for (const std::string& name : option.names) line += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
  if (!option.value.empty()) line += " -x" + fish_offer(option);
  return line + " -d " + fish_text(option.about) + "\n";
}

}  // namespace

std::string fish_completion(const ProgramWords& program) {
  const std::string first = "complete -c dishwright -n __fish_use_subcommand";
  std::string out = completion_origin(program) + "\ncomplete -c dishwright -f\n";
  for (const OptionWords& option : program.options) out += fish_option(first, option);
  for (const CommandWords& command : program.commands) {
    out += first + " -a " + command.name + " -d " + fish_text(command.question) + "\n";
  }
  for (const CommandWords& command : program.commands) {
    const std::string start = "complete -c dishwright -n '__fish_seen_subcommand_from " + command.name + "'";
    out += "\n";
    for (const OptionWords& option : command.options) out += fish_option(start, option);
    for (const OptionWords& option : command.positionals)
      out += start + fish_offer(option) + " -d " + fish_text(option.about) + "\n";
  }
  return out;
}

}  // namespace dishwright
