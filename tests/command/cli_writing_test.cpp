// SPDX-License-Identifier: MIT
// Results that cannot be written: exit 3, a reason, no half file, and what stood there before is whole.
#include <doctest/doctest.h>

#include "command/shell.h"

using namespace dishwright::testing;

namespace {

const std::string kettle = "\"$DW\" trace \"$SCENES/kettle-dish.toml\" --set trace.paths=20000 ";

}  // namespace

TEST_CASE("a folder that cannot be made") {
  const Shell shell;
  shell.write("plain", "a file\n");
  for (const char* place : {"plain", "plain/below", "plain/below/deeper", "/proc/nothing", "/dev/null/below"}) {
    CAPTURE(place);
    const Ran ran = shell.run(kettle + "--out " + place);
    CHECK(ran.code == 3);
    CHECK(ran.out.empty());
    CHECK(holds(ran.err, "could not"));
    CHECK(holds(ran.err, place));
  }
  CHECK(shell.files() == std::set<std::string>{"plain"});
  CHECK(file_content(shell.here() / "plain") == "a file\n");
}

TEST_CASE("standard output on a full disk") {
  const Shell shell;
  const Ran ran = shell.run(kettle + "--json > /dev/full");
  CHECK(ran.code == 3);
  CHECK(holds(ran.err, "standard output"));
  CHECK(shell.run("\"$DW\" --help > /dev/full").code == 3);
  CHECK(shell.run(kettle + "--replay 1 > /dev/full").code == 3);
  CHECK(shell.files().empty());
}

// A limit on the size of files stands in for a full disk: writing fails in the middle of a file.
TEST_CASE("writing that fails half-way") {
  const Shell shell;
  const std::string small_disk = "trap '' XFSZ; ulimit -f 8 || exit 98\n";
  const Ran fresh = shell.run(small_disk + kettle + "--out fresh");
  CAPTURE(fresh.err);
  CHECK(fresh.code == 3);
  CHECK(holds(fresh.err, "could not write"));
  CHECK(shell.files().empty());

  REQUIRE(shell.run(kettle + "--out earlier").code == 0);
  const auto names = shell.files();
  REQUIRE(names.size() == 5);
  REQUIRE(shell.run("cp -r earlier kept").code == 0);
  CHECK(shell.run(small_disk + kettle + "--set sun.aim_error=1deg --out earlier").code == 3);
  CHECK(shell.run("diff -r earlier kept && rm -r kept").code == 0);
  CHECK(shell.files() == names);
}

TEST_CASE("new into a place that cannot be written") {
  const Shell shell;
  shell.write("plain", "a file\n");
  const Ran ran = shell.run("\"$DW\" new plain/mine.toml");
  CHECK(ran.code == 3);
  CHECK(holds(ran.err, "could not"));
  CHECK(shell.files() == std::set<std::string>{"plain"});
}

TEST_CASE("a folder where a result should stand") {
  const Shell shell;
  const Ran ran = shell.run("mkdir -p d/map.csv\n" + kettle + "--out d");
  CHECK(ran.code == 3);
  CHECK(holds(ran.err, "map.csv"));
  CHECK(shell.files() == std::set<std::string>{"d/", "d/map.csv/"});
}
