// SPDX-License-Identifier: MIT
// Results that cannot be written: exit 3, a reason, no half file, and what stood there before is whole.
#include <doctest/doctest.h>
#include <fmt/format.h>

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
  const std::string small_disk = "ulimit -f 8 || exit 98\n";
  const Ran fresh = shell.run(small_disk + kettle + "--out fresh");
  CAPTURE(fresh.err);
  CHECK(fresh.code == 3);
  CHECK(holds(fresh.err, "could not write"));
  CHECK(shell.files().empty());

  REQUIRE(shell.run(kettle + "--out earlier").code == 0);
  const auto names = shell.files();
  REQUIRE(names.size() == 6);
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

namespace {

/// One command of each kind that writes, with the folder behind it.
const std::string writers[] = {
    kettle + "--out ",
    "\"$DW\" trace \"$SCENES/bird-song-dish.toml\" --out ",
    "\"$DW\" compare \"$SCENES/kettle-dish.toml\" --shape paraboloid,sphere --set trace.paths=20000 --out ",
    "\"$DW\" sweep \"$SCENES/kettle-dish.toml\" --vary 'sun.aim_error=0 deg:1 deg:3' --out ",
    "\"$DW\" tolerance \"$SCENES/kettle-dish.toml\" --set trace.paths=20000 --out ",
    "\"$DW\" survey points.csv --out ",
    "\"$DW\" survey --form \"$SCENES/kettle-dish.toml\" --out "};

/// A true dish of 48 in, 6 in deep.
std::string dish_readings() {
  std::string table = "ring [in],clock [h],depth [in]\n0,12,6\n";
  for (const int ring : {6, 12, 18, 23}) {
    for (int hour = 1; hour <= 12; ++hour) table += fmt::format("{},{},{:.3f}\n", ring, hour, 6 - ring * ring / 96.0);
  }
  return table;
}

}  // namespace

// The size at which writing fails is that of some file of each command: no room at all, and room for the small ones.
TEST_CASE("no command dies of a limit on the size of files" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("points.csv", dish_readings());
  for (const std::string& writer : writers) {
    CAPTURE(writer);
    const auto before = shell.files();
    for (const char* blocks : {"0", "6"}) {
      // The words go to a pipe: they are not what is limited here.
      const Ran ran = shell.run("(ulimit -f " + std::string(blocks) + " && " + writer + "fresh 2>&1; echo code $?) | cat");
      CAPTURE(ran.out);
      CHECK(holds(ran.out, "code 3\n"));
      CHECK(holds(ran.out, "error: could not "));
      CHECK(holds(ran.out, "too large"));
      CHECK(shell.files() == before);
    }
    REQUIRE(shell.run(writer + "earlier").code <= 1);
    const auto names = shell.files();
    REQUIRE(shell.run("cp -r earlier kept").code == 0);
    CHECK(holds(shell.run("(ulimit -f 6 && " + writer + "earlier 2>&1; echo code $?) | cat").out, "code 3\n"));
    CHECK(shell.run("diff -r earlier kept && rm -r kept").code == 0);
    CHECK(shell.files() == names);
    REQUIRE(shell.run("rm -r earlier").code == 0);
  }
  CHECK(holds(shell.run("(ulimit -f 0 && \"$DW\" new 2>&1; echo code $?) | cat").out, "code 3\n"));
  CHECK(shell.files() == std::set<std::string>{"points.csv"});
  // Standard output that may not grow.
  const Ran ran = shell.run("(ulimit -f 1 && \"$DW\" trace --help > said; echo code $?) | cat");
  CHECK(holds(ran.out, "code 3\n"));
}

// A file system of 48 kB in a space of our own, where the machine lets us have one.
TEST_CASE("a disk that is full") {
  const Shell shell;
  const std::string small = "mkdir m && mount -t tmpfs -o size=48k t m && ";
  if (shell.run("unshare -rm sh -c 'mkdir m && mount -t tmpfs t m'; r=$?; rmdir m; exit $r").code != 0) {
    MESSAGE("this machine gives no file system of our own: not tried");
    return;
  }
  shell.write("try.sh", small + "echo mine > m/mine && { " + kettle + "--out m/out; echo code $?; ls -A m; }\n");
  const Ran ran = shell.run("export DW SCENES; unshare -rm sh try.sh");
  CAPTURE(ran.out);
  CHECK(holds(ran.err, "error: could not write m/out/"));
  CHECK(holds(ran.err, "no space left"));
  CHECK(ran.out == "code 3\nmine\n");
}

TEST_CASE("a link where the folder or a result should stand") {
  const Shell shell;
  REQUIRE(shell.run("ln -s nowhere out; mkdir d; echo mine > mine; ln -s ../mine d/map.csv").code == 0);
  const Ran dangling = shell.run(kettle);
  CHECK(dangling.code == 3);
  CHECK(holds(dangling.err, "a link that leads to no folder has that name"));
  CHECK(shell.run(kettle + "--out d").code == 0);
  CHECK(file_content(shell.here() / "mine") == "mine\n");
  CHECK(std::filesystem::is_regular_file(std::filesystem::symlink_status(shell.here() / "d" / "map.csv")));
}

TEST_CASE("a name that is too long, and a disk that takes nothing") {
  const Shell shell;
  const Ran ran = shell.run(kettle + "--out \"$(printf '%0300d' 7)\"");
  CHECK(ran.code == 3);
  CHECK(holds(ran.err, "the name is too long"));
  const Ran none = shell.run(kettle + "--out /sys/dishwright");
  CHECK(none.code == 3);
  CHECK(holds(none.err, "could not make the folder /sys/dishwright: "));
  CHECK(shell.files().empty());
}

// Several sources go into folders of their own, and all of them wait for the last.
TEST_CASE("of several sources all results are kept, or none" * doctest::test_suite("slow")) {
  const Shell shell;
  const Ran ran =
      shell.run("mkdir -p d/three-uses.pdf && \"$DW\" trace \"$SCENES/three-uses.toml\" --as all --set trace.paths=2000 --out d");
  CAPTURE(ran.err);
  CHECK(ran.code == 3);
  CHECK(holds(ran.err, "three-uses.pdf: a folder has that name"));
  CHECK(shell.files() == std::set<std::string>{"d/", "d/three-uses.pdf/"});
  CHECK(holds(shell
                  .run("(ulimit -f 6 && \"$DW\" trace \"$SCENES/three-uses.toml\" --as all --set trace.paths=2000 2>&1; echo "
                       "code $?) | cat")
                  .out,
              "code 3\n"));
  CHECK(shell.files() == std::set<std::string>{"d/", "d/three-uses.pdf/"});
}
