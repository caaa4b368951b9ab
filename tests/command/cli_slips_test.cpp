// SPDX-License-Identifier: MIT
// Slips of the command line: exit code 2, what is wrong, and what to type instead, word for word.
#include <doctest/doctest.h>

#include "command/refused.h"

using namespace dishwright::testing;

namespace {

/// The whole of what is said; `said` with "DW" for the program.
void check_slip(const Shell& shell, const std::string& arguments, const std::string& said) {
  CAPTURE(arguments);
  const auto before = shell.files();
  const Ran ran = shell.run("./dw " + arguments);
  CHECK(ran.code == 2);
  CHECK(ran.out.empty());
  CHECK(ran.err == said);
  CHECK(shell.files() == before);
}

/// A folder with the program as ./dw and some files.
class Desk : public Shell {
 public:
  Desk() {
    const Ran ran =
        run("ln -s \"$DW\" dw && cp \"$SCENES/kettle-dish.toml\" k.toml && cp k.toml 'my dish.toml' && cp k.toml base.toml");
    REQUIRE(ran.code == 0);
  }
};

const std::string torn =
    "  why: the shell cuts a line at its blanks, so the value ended before them\n  fix: write it in quotes: ";

}  // namespace

TEST_CASE("values that lack their quotes") {
  const Desk desk;
  const std::string two = " is a value of two words without quotes\n" + torn,
                    several = " … is a value of several words without quotes\n" + torn;
  check_slip(desk, "trace k.toml --set reflector.dish.width=48 in",
             "error: --set reflector.dish.width=48 in" + two + "--set 'reflector.dish.width=48 in'\n");
  check_slip(desk, "trace --set reflector.dish.width=48 in k.toml",
             "error: --set reflector.dish.width=48 in" + two + "--set 'reflector.dish.width=48 in'\n");
  check_slip(desk, "trace k.toml --set=reflector.dish.width=2 ft 6 in --json",
             "error: --set reflector.dish.width=2 ft" + several + "--set 'reflector.dish.width=2 ft 6 in'\n");
  check_slip(desk, "trace --set target.kettle.at=focus of dish k.toml",
             "error: --set target.kettle.at=focus of" + several + "--set 'target.kettle.at=focus of dish'\n");
  check_slip(desk, "compare --set reflector.dish.width=3 1/2 in k.toml base.toml",
             "error: --set reflector.dish.width=3 1/2" + several + "--set 'reflector.dish.width=3 1/2 in'\n");
  check_slip(desk, "sweep --vary sun.aim_error=0 deg:4 deg:5 k.toml",
             "error: --vary sun.aim_error=0 deg:4" + several + "--vary 'sun.aim_error=0 deg:4 deg:5'\n");
  check_slip(desk, "tolerance k.toml --wanted 90 %", "error: --wanted 90 %" + two + "--wanted '90 %'\n");
  check_slip(desk, "survey --found --width 16 ft --depth 5 ft", "error: --width 16 ft" + two + "--width '16 ft'\n");
  check_slip(desk, "trace k.toml --out my results", "error: --out my results" + two + "--out 'my results'\n");
  check_slip(desk, "compare k.toml --shape sphere flat",
             "error: --shape sphere flat is a value of two words without quotes\n"
             "  why: the shell cuts a line at its blanks, so the value ended before them\n"
             "  fix: write commas between them: --shape sphere,flat\n");
}

TEST_CASE("commands and options that are nearly right") {
  const Desk desk;
  const std::string commands = "  why: the commands are new, trace, compare, sweep, tolerance, aim, heat, survey and page\n";
  check_slip(desk, "trcae 'my dish.toml' --json",
             "error: there is no command trcae\n" + commands + "  fix: did you mean trace? ./dw trace 'my dish.toml' --json\n");
  check_slip(desk, "help",
             "error: there is no command help\n" + commands +
                 "  fix: ./dw --help lists the commands, ./dw COMMAND --help their options\n");
  check_slip(desk, "k.toml",
             "error: there is no command k.toml: it is the name of a project file\n"
             "  why: the command comes before it\n  fix: ./dw trace k.toml\n");
  check_slip(desk, "--json trace k.toml",
             "error: there is no option --json before the command\n  why: options stand behind the command that they are for\n"
             "  fix: write the command first: ./dw trace kettle.toml --json\n");
  check_slip(desk, "trace k.toml --methd auto", "error: trace has no option --methd\n  fix: did you mean --method?\n");
  check_slip(desk, "trace k.toml --vary x",
             "error: trace has no option --vary\n  why: it is an option of sweep\n  fix: leave it out; ./dw trace --help lists "
             "the options\n");
  check_slip(desk, "trace k.toml -json",
             "error: trace has no option -json\n  why: long names have two hyphens\n  fix: write --json\n");
  check_slip(desk, "trace k.toml --version",
             "error: trace has no option --version\n  why: it is one of the program itself\n  fix: ./dw --version\n");
  check_slip(desk, "trace k.toml --units SI",
             "error: --units SI: there is no such choice\n  why: it is one of si and us\n  fix: did you mean --units si?\n");
  check_slip(desk, "trace k.toml \u2013json",
             "error: \u2013json begins with a long dash, not with hyphens\n"
             "  why: a text processor makes one of two hyphens\n  fix: type two hyphens: --json\n");
  check_slip(desk, "trace k.toml --set \u2018sun.aim_error=2deg\u2019",
             "error: \u2018sun.aim_error=2deg\u2019 holds a curly quote\n"
             "  why: a shell knows straight quotes only, as text editors write them\n  fix: type straight quotes: ' or \"\n");
}

TEST_CASE("words too many, and what is missing") {
  const Desk desk;
  check_slip(desk, "", "error: no command was given\n  fix: ./dw --help lists the commands, ./dw COMMAND --help their options\n");
  check_slip(desk, "trace",
             "error: trace needs SCENE: project file\n"
             "  fix: name it: ./dw trace kettle.toml; ./dw new kettle.toml writes a first one\n");
  check_slip(desk, "sweep k.toml",
             "error: sweep needs --vary KEY=FROM:TO:COUNT\n"
             "  why: the key to vary, its first and last value, how many values; once or twice\n"
             "  fix: ./dw sweep --help tells how it is called\n");
  check_slip(desk, "trace k.toml --out",
             "error: --out has no value\n  why: folder for the files (out/SCENE if not given)\n"
             "  fix: write --out FOLDER\n");
  check_slip(desk, "trace k.toml --out --json",
             "error: --out has no value\n  why: folder for the files (out/SCENE if not given)\n"
             "  fix: write --out FOLDER\n");
  check_slip(desk, "trace k.toml json",
             "error: json: one word too many for trace\n  why: an option begins with two hyphens\n"
             "  fix: write --json\n");
  check_slip(desk, "trace k.toml sun.aim_error=2deg",
             "error: sun.aim_error=2deg: one word too many for trace\n  why: a key is changed by the option --set\n"
             "  fix: write --set 'sun.aim_error=2deg'\n");
  check_slip(desk, "sweep k.toml --vary sun.aim_error=0deg:4deg:5 --figure intercept power",
             "error: power: one word too many for sweep\n  why: --figure takes one name each time\n"
             "  fix: write --figure intercept --figure power\n");
  check_slip(desk, "trace k.toml --json=3",
             "error: --json=3 takes no value\n  why: it is on where it is given, else off\n  fix: write --json\n");
  check_slip(desk, "trace k.toml --replay -1",
             "error: --replay -1 is no whole number\n"
             "  why: it takes 0, 1, 2 or more: follow one path (its number, from 0) instead of tracing all\n"
             "  fix: write it like --replay 4\n");
}

TEST_CASE("names of files: without the ending, without the folder, with blanks") {
  const Desk desk;
  check_slip(desk, "trace base", "error: there is no file base here\n  why: there is base.toml\n  fix: ./dw trace base.toml\n");
  check_slip(desk, "survey k.csv --scene base",
             "error: there is no file base here\n  why: there is base.toml\n  fix: --scene base.toml\n");
  check_slip(
      desk, "trace nothing",
      "error: there is no file nothing, and no nothing.toml\n  why: a project file is named with its folder and its ending\n"
      "  fix: check the name, or make one: ./dw new nothing.toml\n");
  const std::string blanks =
      "error: my dish.toml is a name with blanks, without quotes\n  why: the shell cuts a line at its blanks\n";
  check_slip(desk, "trace my dish.toml", blanks + "  fix: write it in quotes: ./dw trace 'my dish.toml'\n");
  check_slip(desk, "compare k.toml my dish.toml", blanks + "  fix: write it in quotes: ./dw compare 'my dish.toml'\n");
  check_slip(desk, "new your dish.toml",
             "error: dish.toml: one word too many for new\n"
             "  why: it writes one file; a name with blanks needs quotes\n  fix: ./dw new 'your dish.toml'\n");
  // An example of that name, from the folder of the examples, and from any other one.
  const Ran near = desk.run("mkdir scenes && cp k.toml scenes/pan.toml && ./dw trace pan");
  CHECK(near.code == 2);
  CHECK(near.err == "error: there is no file pan here\n  why: there is scenes/pan.toml\n  fix: ./dw trace scenes/pan.toml\n");
  const std::string far = "$(readlink -f \"$BUILD/../scenes/kettle-bowl.toml\")";
  CHECK(desk.run("./dw trace kettle-bowl 2>&1 | grep -F \"  fix: ./dw trace " + far + "\"").code == 0);
}

TEST_CASE("what is no slip passes") {
  const Desk desk;
  const std::string few = " --set trace.paths=2000 --json ";
  const std::vector<std::string> calls = {"trace k.toml --set 'reflector.dish.width=47 in'" + few,
                                          "trace --set reflector.dish.width=47in" + few + "k.toml",
                                          "trace --units si --threads 2 --set trace.paths=2000 'my dish.toml' --out d",
                                          "trace" + few + "-- k.toml",
                                          "compare --shape paraboloid,sphere --set sun.aim_error=1deg" + few + "base.toml",
                                          "compare --set sun.aim_error=1deg" + few + "base.toml k.toml",
                                          "survey --found --width '16 ft' --depth 5ft --json"};
  for (const std::string& words : calls) {
    CAPTURE(words);
    const Ran ran = desk.run("./dw " + words);
    CHECK_MESSAGE(ran.code == 0, ran.err);
  }
  CHECK(desk.run("./dw trace nothing --help").code == 0);
  CHECK(desk.run("./dw --version").code == 0);
}
