// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "command/completion.h"

namespace dishwright {

namespace {

const char* const bash_files = R"(
# Folders, and files with one of these endings.
_dishwright_files() {
  local word=$1 ending
  shift
  mapfile -t COMPREPLY < <(
    compgen -d -- "$word"
    for ending in "$@"; do compgen -f -X "!*.$ending" -- "$word"; done
  )
  compopt -o filenames 2> /dev/null
}

_dishwright_words() {
  mapfile -t COMPREPLY < <(compgen -W "$1" -- "$2")
}
)";

const char* const bash_start = R"(
_dishwright() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} options= endings=
  COMPREPLY=()
  # "--units=si" comes as three words.
  if [[ $word == = || $before == = ]]; then
    [[ $word == = ]] && word= || before=${COMP_WORDS[COMP_CWORD - 2]}
    [[ $before == -* ]] || return
  fi
)";

const char* const bash_end = R"(
  if [[ $word == -* ]]; then
    _dishwright_words "$options" "$word"
  else
    # shellcheck disable=SC2086
    _dishwright_files "$word" $endings
  fi
}
complete -F _dishwright dishwright
)";

std::string joined(const std::vector<std::string>& words, const std::string& between) {
  return fmt::format("{}", fmt::join(words, between));
}

std::string names_of(const std::vector<OptionWords>& options) {
  std::vector<std::string> all;
  all.reserve(options.size());
  for (const OptionWords& option : options) all.push_back(option.names.back());
  return joined(all, " ");
}

/// What may follow an option that takes a value.
std::string value_line(const CommandWords& command, const OptionWords& option) {
  std::vector<std::string> patterns;
  for (const std::string& name : option.names) patterns.push_back('"' + command.name + ' ' + name + '"');
  std::string action;
  if (!option.choices.empty()) action = fmt::format("_dishwright_words \"{}\" \"$word\"; ", joined(option.choices, " "));
  if (option.folder) action = "_dishwright_files \"$word\"; ";
  if (!option.endings.empty()) action = fmt::format("_dishwright_files \"$word\" {}; ", joined(option.endings, " "));
  return fmt::format("    {}) {}return ;;\n", joined(patterns, "|"), action);
}

}  // namespace

std::string bash_completion(const ProgramWords& program) {
  std::string names, values, commands;
  for (const CommandWords& command : program.commands) {
    names += command.name + " ";
    for (const OptionWords& option : command.options) {
      if (!option.value.empty()) values += value_line(command, option);
    }
    const std::string endings = command.positionals.empty() ? "" : joined(command.positionals.front().endings, " ");
    commands += fmt::format("    {}) endings=\"{}\"; options=\"{}\" ;;\n", command.name, endings, names_of(command.options));
  }
  return completion_origin(program) + bash_files + bash_start +
         fmt::format("  if ((COMP_CWORD == 1)); then\n    _dishwright_words \"{}{}\" \"$word\"\n    return\n  fi\n", names,
                     names_of(program.options)) +
         "  case \"${COMP_WORDS[1]} $before\" in\n" + values + "  esac\n  case ${COMP_WORDS[1]} in\n" + commands + "  esac\n" +
         (bash_end + 1);
}

}  // namespace dishwright
