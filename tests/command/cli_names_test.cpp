// SPDX-License-Identifier: MIT
// Names and texts that somebody else chose: what is printed of them steers no terminal, what is written starts no formula, and
// what is told to be typed can be typed.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include "base/text.h"
#include "command/refused.h"
#include "command/shell.h"

using namespace dishwright::testing;

namespace {

const std::string small = " --set trace.paths=2000 ";

/// The last word of a line "  dishwright COMMAND …" in a text, as printed.
std::string told_to_type(const std::string& text, const std::string& command) {
  const std::string start = "dishwright " + command + " ";
  const std::size_t at = text.find(start);
  REQUIRE(at != std::string::npos);
  return text.substr(at + start.size(), text.find('\n', at) - at - start.size());
}

void check_calm(const Ran& ran) {
  CAPTURE(ran.out);
  CAPTURE(ran.err);
  CHECK(dishwright::printable_lines(ran.out) == ran.out);
  CHECK(dishwright::printable_lines(ran.err) == ran.err);
  CHECK_FALSE(holds(ran.err, "fault of the program"));
}

}  // namespace

TEST_CASE("new: strange names are refused in words or work, and what it says can be typed") {
  const Shell shell;
  REQUIRE(shell.run("mkdir folder folder.toml && ln -s nowhere.toml link.toml && touch there.toml").code == 0);
  check_refused(shell, "new ''", "the name of the file is empty");
  check_refused(shell, "new .", ". is the name of a folder");
  check_refused(shell, "new ..", ".. is the name of a folder");
  check_refused(shell, "new folder/", "folder/ is the name of a folder");
  check_refused(shell, "new folder", "folder is the name of a folder");
  check_refused(shell, "new folder.toml", "folder.toml is the name of a folder");
  check_refused(shell, "new nowhere/", "nowhere/ is the name of a folder");
  check_refused(shell, "new link.toml", "link.toml is there already, as a link");
  check_refused(shell, "new link", "link.toml is there already, as a link");
  check_refused(shell, "new there", "there.toml is there already");
  check_refused(shell, "new .toml", "has no name before .toml");
  check_refused(shell, "new -v.toml", "-v.toml");
  const Ran long_name = shell.run("\"$DW\" new \"$(printf '%0300d' 7)\"");
  CHECK(long_name.code == 3);
  CHECK(holds(long_name.err, "the name is too long"));
  CHECK(shell.files() == std::set<std::string>{"folder/", "folder.toml/", "link.toml", "there.toml"});

  const std::string names[] = {"-- -dish.toml",
                               "my\\ dish",
                               "\"Sam's dish.toml\"",
                               "'$HOME;`x`&.toml'",
                               "deep/er/dish",
                               "\"$(printf 'a\\nb')\"",
                               "\"$(printf 'caf\\351')\"",
                               "\"$(printf 'a\\302\\233b\\033[31m')\"",
                               "\"$(printf '%0200d' 7)\""};
  for (const std::string& name : names) {
    CAPTURE(name);
    const Ran made = shell.run("\"$DW\" new " + name);
    CAPTURE(made.err);
    REQUIRE(made.code == 0);
    check_calm(made);
    // $'…' is for shells that know it.
    shell.write("type", "'" + program_file().string() + "' trace " + told_to_type(made.out, "trace") + small + "--json\n");
    const Ran traced = shell.run("bash ./type");
    CAPTURE(traced.err);
    CHECK(traced.code == 0);
    check_calm(traced);
    CHECK(nlohmann::json::accept(traced.out));
  }
  const Ran json = shell.run("\"$DW\" new --json \"$(printf 'b\\351')\"");
  CHECK(json.code == 0);
  CHECK(nlohmann::json::accept(json.out));
}

TEST_CASE("names with control characters, and bytes that are no text, in every command" * doctest::test_suite("slow")) {
  const Shell shell;
  for (const std::string& bytes : {std::string("a\\033[31mb\\nc\\302\\233d"), std::string("caf\\351")}) {
    REQUIRE(shell.run("rm -rf * && cp \"$SCENES/kettle-dish.toml\" \"$(printf '" + bytes + "').toml\"").code == 0);
    const std::string file = "\"$(printf '" + bytes + "').toml\" ";
    for (const std::string& command : std::vector<std::string>{
             "trace " + file + small, "trace " + file + small + "--json", "trace " + file + small + "--replay 1 --json",
             "compare " + file + "--shape paraboloid,sphere" + small, "compare " + file + file + small + "--json",
             "sweep " + file + "--vary 'sun.aim_error=0 deg:1 deg:3'" + small, "tolerance " + file + small,
             "tolerance " + file + small + "--json", "survey --form " + file, "survey --form --json " + file,
             "trace " + file + small + "--out \"$(printf '" + bytes + "')\""}) {
      CAPTURE(command);
      const Ran ran = shell.run("\"$DW\" " + command);
      CAPTURE(ran.err);
      CHECK(ran.code <= 1);
      check_calm(ran);
      if (holds(command, "--json")) CHECK(nlohmann::json::accept(ran.out));
    }
    for (const std::string& command : std::vector<std::string>{
             "trace \"$(printf 'no" + bytes + "')\"", "\"$(printf '" + bytes + "')\"",
             "trace " + file + "--set \"$(printf '" + bytes + "')\"",
             "trace " + file + "--set \"$(printf 'title=" + bytes + "')\"",
             "trace " + file + "--set \"$(printf 'sun.beam=" + bytes + "')\"",
             "trace " + file + "--as \"$(printf '" + bytes + "')\"", "trace " + file + "\"$(printf -- '--x" + bytes + "')\"",
             "sweep " + file + "--vary \"$(printf '" + bytes + "')\"",
             "sweep " + file + "--vary 'sun.aim_error=0 deg:1 deg:3' --figure \"$(printf '" + bytes + "')\"",
             "tolerance " + file + "--target \"$(printf '" + bytes + "')\"",
             "tolerance " + file + "--wanted \"$(printf '" + bytes + "')\"", "survey \"$(printf '" + bytes + "')\"",
             "survey \"$(printf '" + bytes + "').ply\"", "survey --found --width \"$(printf '" + bytes + "')\"",
             "compare " + file + "--shape \"$(printf '" + bytes + "'),sphere\""}) {
      CAPTURE(command);
      const Ran ran = shell.run("\"$DW\" " + command);
      CAPTURE(ran.err);
      CHECK(ran.code == 2);
      check_calm(ran);
    }
  }
}

TEST_CASE("a project file with control characters in every place") {
  const Shell shell;
  const std::string bad =
      "a\x1b[31mb\xC2\x9B"
      "c\xE2\x80\xAE";
  const std::string sound = file_content(source_folder() / "scenes" / "kettle-dish.toml");
  for (const std::string& line : std::vector<std::string>{
           "title = \"a\\u001b[31mb\\u009b\\u202e\"\n", "\"k\\u001b[31m\\u009b\" = 1\n",
           "[sun]\nbeam = \"\\u001b[31m\\u202e W/m2\"\n", "[reflector.\"r\\u001b\\u202e\"]\nshape = \"\\u009b\"\n",
           "title = '" + bad + "'\n", "# " + bad + "\nx = 1\n", bad + " = 1\n"}) {
    shell.write("p.toml", line + sound);
    const Ran ran = shell.run("\"$DW\" trace p.toml");
    CAPTURE(line);
    CHECK(ran.code == 2);
    check_calm(ran);
  }
}

TEST_CASE("no cell of a table starts a formula" * doctest::test_suite("slow")) {
  const Shell shell;
  std::string file = file_content(source_folder() / "scenes" / "kettle-dish.toml");
  file.erase(file.find("title"), file.find('\n', file.find("title")) - file.find("title"));
  for (std::size_t at = 0; (at = file.find("target.kettle", at)) != std::string::npos;) file.replace(at, 13, "target.-1-kettle");
  const std::string sound = "[sound]\nfrequency = [\"2 kHz\", \"4 kHz\"]\n";
  const char* const titles[] = {"=HYPERLINK(\\\"http://127.0.0.1\\\",\\\"x\\\")", "+1", "-1", "@SUM(1)"};
  std::string all;
  for (int i = 0; i < 4; ++i) {
    shell.write(fmt::format("{}.toml", i), fmt::format("title = \"{}\"\n", titles[i]) + file + sound);
    all += fmt::format(" {}.toml", i);
  }
  const Ran ran =
      shell.run("\"$DW\" compare" + all + small + "--as light --out c && \"$DW\" compare" + all +
                " --as sound --out d && \"$DW\" trace 0.toml" + small +
                "--as all --out t && \"$DW\" sweep 0.toml --as light --vary 'target.-1-kettle.width=5 in:6 in:2'" + small +
                "--out s && \"$DW\" tolerance 0.toml --as light" + small + "--out l; test -e l/tolerance.csv");
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  int tables = 0;
  for (const std::string& name : shell.files()) {
    if (!name.ends_with(".csv")) continue;
    ++tables;
    const std::string table = "\n" + file_content(shell.here() / name);
    CAPTURE(name);
    // A cell may be a number; a text never begins with one of these signs.
    for (std::size_t at = 0; (at = table.find_first_of(",\n", at)) != std::string::npos; ++at) {
      std::size_t from = at + 1;
      if (from < table.size() && table[from] == '"') ++from;
      if (from >= table.size() || std::string("=+-@\t\r").find(table[from]) == std::string::npos) continue;
      const std::string cell = table.substr(from, table.find_first_of(",\n", from) - from);
      char* end = nullptr;
      std::strtod(cell.c_str(), &end);
      CAPTURE(cell);
      CHECK(*end == '\0');
    }
  }
  CHECK(tables >= 7);
  CHECK(holds(file_content(shell.here() / "c" / "compare.csv"), "\n\"'=HYPERLINK(\"\"http"));
  CHECK(holds(file_content(shell.here() / "c" / "compare.csv"), "\n'@SUM(1),'-1-kettle,"));
}

TEST_CASE("a line break in a new file's name is not printed; a link that leads nowhere is called one") {
  const Shell shell;
  const Ran made = shell.run(R"(n=$(printf 'a\nb.toml'); "$DW" new "$n")");
  CHECK(made.code == 0);
  CHECK(holds(made.out, "Wrote a?b.toml. "));
  const Ran lost = shell.run(R"(ln -s nowhere.toml link.toml; "$DW" trace link.toml)");
  CHECK(lost.code == 2);
  CHECK(holds(lost.err, "there is no such file"));
  CHECK(holds(lost.err, "a link that leads nowhere"));
}
