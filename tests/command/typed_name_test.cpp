// SPDX-License-Identifier: MIT
// A command that is suggested can be typed as it stands: it begins with the program's name as the user typed it.
#include "command/typed_name.h"

#include <doctest/doctest.h>

#include "command/program.h"
#include "command/shell.h"

using namespace dishwright;
using namespace dishwright::testing;

TEST_CASE("the name stands before a command's word or an option, and nowhere else") {
  CHECK(as_typed("dishwright new a.toml\nthen dishwright trace a.toml", "./dw") == "./dw new a.toml\nthen ./dw trace a.toml");
  CHECK(as_typed("`dishwright new` writes one (dishwright --help)", "b/dw") == "`b/dw new` writes one (b/dw --help)");
  CHECK(as_typed("dishwright 0.1.0; the dishwright traces; a-dishwright new; dishwright", "b/dw") ==
        "dishwright 0.1.0; the dishwright traces; a-dishwright new; dishwright");
  CHECK(as_typed("dishwright newer, dishwright COMMAND --help", "b/dw") == "dishwright newer, b/dw COMMAND --help");
  std::string own = "'/my tools/dishwright'";
  CHECK(as_typed("dishwright survey", own) == own + " survey");
}

TEST_CASE("what the user said stays in an error; reasons and remedies have the typed name") {
  Problem problem;
  problem.what = "no file dishwright trace", problem.why = "dishwright new was not run", problem.fix = "dishwright new x";
  problem.source_line = "# dishwright new", problem.line = 1, problem.column = 3;
  const InputError error = as_typed(InputError(std::vector<Problem>{problem}), "b/dw");
  CHECK(error.problems()[0].what == problem.what);
  CHECK(error.problems()[0].source_line == problem.source_line);
  CHECK(error.problems()[0].why == "b/dw new was not run");
  CHECK(error.problems()[0].fix == "b/dw new x");
}

TEST_CASE("every command of the program is known") {
  std::vector<std::string> names;
  for (const CommandWords& command : program_words().commands) names.push_back(command.name);
  CHECK(names == command_names());
  CHECK(program_words().name == plain_program_name);
}

TEST_CASE("help, errors and next steps begin with what was typed") {
  const Shell shell;
  REQUIRE(shell
              .run("mkdir build 'my tools' && ln -s \"$DW\" build/dishwright && ln -s \"$DW\" 'my tools/dw' && "
                   "ln -s \"$DW\" dishwright")
              .code == 0);
  for (const char* name : {"build/dishwright", "./dishwright", "'my tools/dw'"}) {
    const std::string typed = name;
    CAPTURE(typed);
    CHECK(holds(shell.run(typed + " --help").out, "  " + typed + " new kettle.toml\n"));
    CHECK(holds(shell.run(typed + " trace --help").out, "  " + typed + " trace kettle.toml --replay 7\n"));
    CHECK(holds(shell.run(typed + " trace none.toml").err, "`" + typed + " new`"));
    CHECK(holds(shell.run("rm -f a.toml; " + typed + " new a.toml").out, "\n  " + typed + " trace a.toml\n"));
    CHECK(holds(shell.run(typed + " survey --form a.toml --out f").out,
                "\n    " + typed + " survey f/readings.csv --scene a.toml\n"));
  }
  const Ran found = shell.run("PATH=\"$PWD:$PATH\" dishwright new b.toml");
  CHECK(holds(found.out, "\n  dishwright trace b.toml\n"));
}
