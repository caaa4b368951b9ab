// SPDX-License-Identifier: MIT
#include "command/help_text.h"

#include <doctest/doctest.h>

#include <regex>
#include <sstream>

#include "command/program.h"
#include "command/shell.h"
#include "report/numbers/text_layout.h"

using namespace dishwright;
using namespace dishwright::testing;

namespace {

/// A terminal has 80 columns.
void check_width(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK_MESSAGE(characters(line) <= 80, line);
}

}  // namespace

TEST_CASE("no line of any help is wider than 80 columns") {
  const ProgramWords words = program_words();
  for (const char* program : {"dishwright", "build/dishwright", "/home/someone/dishwright/build/dishwright"}) {
    check_width(program_help(words, program));
    for (const CommandWords& command : words.commands) check_width(command_help(command, program));
  }
  REQUIRE(words.commands.size() >= 6);
  const Shell shell;
  for (const CommandWords& command : words.commands) {
    const Ran ran = shell.run("\"$DW\" " + command.name + " --help | sed \"s:$DW:build/dishwright:g\"");
    CHECK(holds(ran.out, "To type: build/dishwright " + command.name));
  }
}

TEST_CASE("the program's help has one line a command") {
  const ProgramWords words = program_words();
  const std::string help = program_help(words, "dishwright");
  const std::size_t from = help.find("\nCommands:\n") + 11, to = help.find("\n\n", from);
  const std::string list = help.substr(from, to - from);
  CHECK(static_cast<std::size_t>(std::count(list.begin(), list.end(), '\n')) + 1 == words.commands.size());
  for (const CommandWords& command : words.commands) CHECK(holds("\n" + list, "\n  " + command.name + " "));
}

TEST_CASE("every option stands in its command's help, with what follows it and what it is for") {
  for (const CommandWords& command : program_words().commands) {
    const std::string help = command_help(command, "dishwright");
    for (const OptionWords& option : command.options) {
      CAPTURE(option.names.back());
      CHECK(std::regex_search(help, std::regex("\n  (-h, )?" + option.names.back() + "[ \n]")));
      CHECK(holds(help, option.about.substr(0, option.about.find(' '))));
      for (const std::string& choice : option.choices) CHECK(holds(help, choice));
    }
  }
}

TEST_CASE("paragraphs are joined, examples keep their lines, and a long command is broken before an option") {
  CHECK(help_paragraphs("One.\nTwo.\n\n  a = 1\n    b\nThree.", "dishwright") == "One. Two.\n\n  a = 1\n    b\nThree.\n");
  const std::string option = " --set " + std::string(40, 'x');
  CHECK(help_paragraphs("  dishwright trace" + option + option, "dishwright") ==
        "  dishwright trace" + option + " \\\n   " + option + "\n");
  CHECK(help_paragraphs("  arc  " + std::string(70, 'x') + " yes", "dishwright") ==
        "  arc  " + std::string(70, 'x') + "\n       yes\n");
}
