// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "command/completion.h"

namespace dishwright {

namespace {

/// Text inside of single quotes, where brackets and colons would end it.
std::string zsh_text(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\'') {
      out += R"('\'')";
    } else {
      if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
      out += c;
    }
  }
  return out;
}

std::string zsh_files(const std::vector<std::string>& endings) {
  return endings.size() == 1 ? "_files -g \"*." + endings.front() + "\""
                             : fmt::format("_files -g \"*.({})\"", fmt::join(endings, "|"));
}

/// ":FOLDER:_files -/", empty for a flag.
std::string zsh_value(const OptionWords& option) {
  if (option.value.empty()) return "";
  std::string action;
  if (!option.choices.empty()) action = fmt::format("({})", fmt::join(option.choices, " "));
  if (option.folder) action = "_files -/";
  if (!option.endings.empty()) action = zsh_files(option.endings);
  return ":" + zsh_text(option.choices.empty() ? option.value : "value") + ":" + action;
}

std::string zsh_option(const OptionWords& option) {
  const std::string text = "[" + zsh_text(option.about) + "]" + zsh_value(option) + "'";
  if (option.names.size() > 1) {
    return fmt::format("'({})'{{{}}}'{}", fmt::join(option.names, " "), fmt::join(option.names, ","), text);
  }
  return "'" + std::string(option.repeatable ? "*" : "") + option.names.front() + text;
}

std::string zsh_positional(const OptionWords& option) {
  return "'" +
         std::string(option.repeatable ? "*"
                     : option.required ? "1"
                                       : ":") +
         ":" + zsh_text(option.about) + ":" + zsh_files(option.endings) + "'";
}

}  // namespace

std::string zsh_completion(const ProgramWords& program) {
  std::string global, list, cases;
  for (const OptionWords& option : program.options) global += "    " + zsh_option(option) + " \\\n";
  for (const CommandWords& command : program.commands) {
    list += "        '" + zsh_text(command.name) + ":" + zsh_text(command.question) + "'\n";
    cases += "        " + command.name + ")\n          _arguments";
    for (const OptionWords& option : command.options) cases += " \\\n            " + zsh_option(option);
    for (const OptionWords& option : command.positionals) cases += " \\\n            " + zsh_positional(option);
    cases += "\n          ;;\n";
  }
  return "#compdef dishwright\n" + completion_origin(program) +
         "\n_dishwright() {\n  local curcontext=\"$curcontext\" state line\n  typeset -A opt_args\n  _arguments -C \\\n" +
         global +
         "    '1:command:->command' \\\n    '*::argument:->argument'\n  case $state in\n    command)\n      local -a commands\n"
         "      commands=(\n" +
         list + "      )\n      _describe -t commands command commands\n      ;;\n    argument)\n      case $line[1] in\n" +
         cases + "      esac\n      ;;\n  esac\n}\n\n_dishwright \"$@\"\n";
}

}  // namespace dishwright
