// SPDX-License-Identifier: MIT
// Outputs are whole or absent; inputs that are no plain files are refused without waiting.
#include "base/files.h"

#include <doctest/doctest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <string>

#include "base/error.h"
#include "scratch.h"
#include "test_files.h"

namespace fs = std::filesystem;
using dishwright::InputError;
using dishwright::read_file;
using dishwright::WholeFiles;
using dishwright::WriteError;
using dishwright::testing::Scratch;

namespace {

void write(const fs::path& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

int entries(const fs::path& folder) {
  int count = 0;
  for (const auto& entry : fs::directory_iterator(folder)) {
    (void)entry;
    ++count;
  }
  return count;
}

/// A file may not grow beyond this many bytes while it lives: the kernel's own stand-in for a full disk.
struct SmallFiles {
  rlimit before{};
  explicit SmallFiles(rlim_t bytes) {
    ::signal(SIGXFSZ, SIG_IGN);
    ::getrlimit(RLIMIT_FSIZE, &before);
    rlimit small = before;
    small.rlim_cur = bytes;
    ::setrlimit(RLIMIT_FSIZE, &small);
  }
  ~SmallFiles() { ::setrlimit(RLIMIT_FSIZE, &before); }
};

}  // namespace

TEST_CASE("files appear at commit, all of them, and no other") {
  const Scratch scratch;
  const fs::path out = scratch.path / "a" / "b";
  {
    WholeFiles files(out);
    files.add("one.txt", "first");
    write(files.reserve("two.bin"), std::string("\0\1\2", 3));
    CHECK_FALSE(fs::exists(out / "one.txt"));
    CHECK_FALSE(fs::exists(out / "two.bin"));
    files.commit();
  }
  CHECK(dishwright::testing::file_content(out / "one.txt") == "first");
  CHECK(dishwright::testing::file_content(out / "two.bin") == std::string("\0\1\2", 3));
  CHECK(entries(out) == 2);
}

TEST_CASE("without commit nothing is left, new folders included, and old content stays") {
  const Scratch scratch;
  {
    WholeFiles files(scratch.path / "a" / "b");
    files.add("one.txt", "first");
  }
  CHECK(entries(scratch.path) == 0);
  write(scratch.path / "one.txt", "old");
  {
    WholeFiles files(scratch.path);
    files.add("one.txt", "new");
  }
  CHECK(dishwright::testing::file_content(scratch.path / "one.txt") == "old");
  CHECK(entries(scratch.path) == 1);
}

TEST_CASE("a reserved name keeps its ending and lies in the same folder") {
  const Scratch scratch;
  WholeFiles files(scratch.path);
  const fs::path temporary = files.reserve("map.exr");
  CHECK(temporary.extension() == ".exr");
  CHECK(temporary.parent_path() == scratch.path);
  CHECK_THROWS_AS(files.add("map.exr", ""), std::logic_error);
}

TEST_CASE("if one goal cannot be replaced, those already in place go back") {
  const Scratch scratch;
  write(scratch.path / "a.txt", "old a");
  {
    WholeFiles files(scratch.path);
    files.add("a.txt", "new a");
    files.add("b.txt", "new b");
    const fs::path temporary = files.reserve("c.txt");
    fs::create_directory(temporary);  // a folder does not replace a file: this rename fails after two that worked
    write(scratch.path / "c.txt", "old c");
    CHECK_THROWS_AS(files.commit(), WriteError);
    CHECK(dishwright::testing::file_content(scratch.path / "a.txt") == "old a");
    CHECK_FALSE(fs::exists(scratch.path / "b.txt"));
    CHECK(dishwright::testing::file_content(scratch.path / "c.txt") == "old c");
  }
  CHECK(entries(scratch.path) == 2);
}

TEST_CASE("a goal that is a folder is found before anything is renamed") {
  const Scratch scratch;
  fs::create_directory(scratch.path / "b.txt");
  WholeFiles files(scratch.path);
  files.add("a.txt", "a");
  files.add("b.txt", "b");
  CHECK_THROWS_WITH_AS(files.commit(),
                       ("could not write " + (scratch.path / "b.txt").string() + ": a folder has that name").c_str(), WriteError);
  CHECK_FALSE(fs::exists(scratch.path / "a.txt"));
}

TEST_CASE("a file that is cut short is an error, at the first byte and at the last") {
  const Scratch scratch;
  const std::string big(100'000, 'x');
  for (const rlim_t room : {rlim_t{0}, rlim_t{99'999}}) {
    const SmallFiles limit(room);
    WholeFiles files(scratch.path / "out");
    CHECK_THROWS_WITH_AS(
        files.add("big.txt", big),
        ("could not write " + (scratch.path / "out" / "big.txt").string() + ": the file would grow too large").c_str(),
        WriteError);
  }
  CHECK(entries(scratch.path) == 0);
}

TEST_CASE("a full disk is named as such") {
  // The full device takes no byte. Where the temporary name leads there, the write fails as on a full disk.
  if (!fs::exists("/dev/full")) return;
  const Scratch scratch;
  WholeFiles files(scratch.path);
  const std::string temporary = ".map." + std::to_string(::getpid()) + ".part.csv";
  fs::create_symlink("/dev/full", scratch.path / temporary);
  CHECK_THROWS_WITH_AS(files.add("map.csv", "x"),
                       ("could not write " + (scratch.path / "map.csv").string() + ": no space left").c_str(), WriteError);
}

TEST_CASE("a folder that cannot be made") {
  const Scratch scratch;
  write(scratch.path / "taken", "");
  WholeFiles files(scratch.path / "taken" / "out");
  CHECK_THROWS_WITH_AS(
      files.add("a", ""),
      ("could not make the folder " + (scratch.path / "taken" / "out").string() + ": something else has that name").c_str(),
      WriteError);
}

TEST_CASE("a file is read whole, up to the limit") {
  const Scratch scratch;
  const std::string text("a\0b\r\n", 5);
  write(scratch.path / "in", text);
  CHECK(read_file(scratch.path / "in", 5) == text);
  CHECK_THROWS_AS(read_file(scratch.path / "in", 4), InputError);
  write(scratch.path / "empty", "");
  CHECK(read_file(scratch.path / "empty", 0).empty());
}

TEST_CASE("what is no plain file is refused at once") {
  const Scratch scratch;
  CHECK_THROWS_AS(read_file(scratch.path / "none", 10), InputError);
  CHECK_THROWS_AS(read_file(scratch.path, 10), InputError);
  CHECK_THROWS_AS(read_file("/dev/zero", 10), InputError);
  const fs::path pipe = scratch.path / "pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  CHECK_THROWS_AS(read_file(pipe, 10), InputError);  // would wait for ever if it were opened
}
