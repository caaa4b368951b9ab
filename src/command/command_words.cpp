// SPDX-License-Identifier: MIT
#include "command/command_words.h"

#include <CLI/CLI.hpp>
#include <map>
#include <stdexcept>

namespace dishwright {

namespace {

/// Which files a positional or the value of an option names: by the word that stands for it.
std::vector<std::string> endings_of(const std::string& word, bool positional) {
  static const std::map<std::string, std::vector<std::string>> known = {
      {"SCENE", {"toml"}},
      {"FILE", {"toml"}},
      {"POINTS", {"csv", "ply", "obj", "stl", "toml"}},
  };
  const auto found = known.find(word);
  if (found != known.end()) return found->second;
  if (positional) throw std::logic_error("which files does " + word + " name? Add it to endings_of()");
  return {};
}

/// "TEXT:{si,us}" says which words there are.
std::vector<std::string> choices_of(const std::string& type) {
  const std::size_t open = type.find('{'), close = type.find('}');
  if (open == std::string::npos || close == std::string::npos) return {};
  return CLI::detail::split(type.substr(open + 1, close - open - 1), ',');
}

OptionWords option_words(const CLI::Option& option) {
  OptionWords words;
  for (const std::string& name : option.get_snames()) words.names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) words.names.push_back("--" + name);
  const bool positional = words.names.empty();
  if (positional) words.names.push_back(option.get_name(true, false));
  words.about = option.get_description();
  if (option.get_items_expected_max() > 0) {
    const std::string type = option.get_type_name();
    words.choices = choices_of(type);
    // A check is told after the word: "INT:INT in [1 - 256]".
    words.value = type.find_first_of("{[") == std::string::npos ? type : type.substr(0, type.find(':'));
    words.endings = endings_of(positional ? words.names.front() : words.value, positional);
    words.folder = words.value == "FOLDER";
    words.repeatable = option.get_items_expected_max() > 1;
  }
  words.required = option.get_required();
  return words;
}

void add_options(const CLI::App& app, std::vector<OptionWords>& options, std::vector<OptionWords>& positionals) {
  for (const CLI::Option* option : app.get_options()) {
    (option->nonpositional() ? options : positionals).push_back(option_words(*option));
  }
}

}  // namespace

std::string first_sentence(const std::string& help) {
  for (std::size_t i = 0; i < help.size(); ++i) {
    const bool stop = help[i] == '.' || help[i] == '?';
    if (stop && (i + 1 == help.size() || help[i + 1] == ' ' || help[i + 1] == '\n')) return help.substr(0, i + 1);
  }
  return help.substr(0, help.find('\n'));
}

CommandWords words_of_command(const CLI::App& command) {
  CommandWords words;
  words.name = command.get_name();
  words.help = command.get_description();
  words.question = first_sentence(words.help);
  add_options(command, words.options, words.positionals);
  return words;
}

ProgramWords words_of(const CLI::App& app, const std::string& version) {
  ProgramWords words{app.get_name(), version, app.get_description(), {}, {}};
  std::vector<OptionWords> none;
  add_options(app, words.options, none);
  for (const CLI::App* command : app.get_subcommands({})) words.commands.push_back(words_of_command(*command));
  return words;
}

}  // namespace dishwright
