// SPDX-License-Identifier: MIT
// The command line as plain data: what man page and shell completion are written from.
#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace dishwright {

/// One option, flag or positional of a command.
struct OptionWords {
  std::vector<std::string> names;    ///< as they are typed: "-h", "--help"; a positional has its one name, "SCENE"
  std::string about;                 ///< what it does, one line
  std::string value;                 ///< word for what follows it: "FOLDER", "INT"; empty: nothing follows
  std::vector<std::string> choices;  ///< the only words that may follow; empty: any
  std::vector<std::string> endings;  ///< where a file follows: how its name ends, without the dot
  bool folder = false;               ///< a folder follows
  bool required = false, repeatable = false;
};

/// One command.
struct CommandWords {
  std::string name;
  std::string question;  ///< the first sentence of its help
  std::string help;      ///< all of it: paragraphs, and examples indented by two blanks
  std::vector<OptionWords> options, positionals;
};

/// The program.
struct ProgramWords {
  std::string name, version, about;
  std::vector<OptionWords> options;
  std::vector<CommandWords> commands;
};

/// The first sentence of a help text.
std::string first_sentence(const std::string& help);

/// Everything that one command would take. Throws as words_of() does.
CommandWords words_of_command(const CLI::App& command);
/// Everything that `app` would take. Throws std::logic_error for a positional of which it is not known which files it names.
ProgramWords words_of(const CLI::App& app, const std::string& version);

}  // namespace dishwright
