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
#include <set>
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
    files.add("two.bin", std::string("\0\1\2", 3));
    CHECK_FALSE(fs::exists(out / "one.txt"));
    CHECK_FALSE(fs::exists(out / "two.bin"));
    files.commit();
  }
  CHECK(dishwright::testing::file_content(out / "one.txt") == "first");
  CHECK(dishwright::testing::file_content(out / "two.bin") == std::string("\0\1\2", 3));
  CHECK(entries(out) == 2);
}

TEST_CASE("files of an inner folder are put in place together with those of the outer one") {
  const Scratch scratch;
  {
    WholeFiles files(scratch.path / "out");
    files.inner("light").add("map.csv", "light");
    files.inner("sound").add("map.csv", "sound");
    files.add("sheet.pdf", "sheet");
    CHECK_FALSE(fs::exists(scratch.path / "out" / "sheet.pdf"));
    CHECK_FALSE(fs::exists(scratch.path / "out" / "light" / "map.csv"));
    files.commit();
  }
  CHECK(dishwright::testing::file_content(scratch.path / "out" / "sheet.pdf") == "sheet");
  CHECK(dishwright::testing::file_content(scratch.path / "out" / "light" / "map.csv") == "light");
  CHECK(dishwright::testing::file_content(scratch.path / "out" / "sound" / "map.csv") == "sound");
  CHECK(entries(scratch.path / "out") == 3);
  {
    WholeFiles files(scratch.path / "none");
    files.inner("light").add("map.csv", "light");
  }
  CHECK_FALSE(fs::exists(scratch.path / "none"));
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

TEST_CASE("if one goal cannot be replaced, those already in place go back") {
  const Scratch scratch;
  write(scratch.path / "a.txt", "old a");
  {
    WholeFiles files(scratch.path);
    files.add("a.txt", "new a");
    files.add("b.txt", "new b");
    files.add(std::string(300, 'c'), "new c");  // no file can have that name: this rename fails after two that worked
    CHECK_THROWS_WITH_AS(
        files.commit(), ("could not write " + (scratch.path / std::string(300, 'c')).string() + ": the name is too long").c_str(),
        WriteError);
    CHECK(dishwright::testing::file_content(scratch.path / "a.txt") == "old a");
    CHECK_FALSE(fs::exists(scratch.path / "b.txt"));
  }
  CHECK(entries(scratch.path) == 1);
  // The same with a folder inside.
  {
    WholeFiles files(scratch.path);
    files.add("a.txt", "new a");
    files.inner("two").add(std::string(300, 'c'), "new c");
    CHECK_THROWS_AS(files.commit(), WriteError);
    CHECK(dishwright::testing::file_content(scratch.path / "a.txt") == "old a");
  }
  CHECK(entries(scratch.path) == 1);
}

TEST_CASE("temporary files: new names by chance, never one that is there, and the rights that the mask leaves") {
  const Scratch scratch;
  std::set<fs::path> names;
  for (int round = 0; round < 20; ++round) {
    WholeFiles files(scratch.path);
    files.add("map.csv", "x");
    for (const auto& entry : fs::directory_iterator(scratch.path)) {
      CHECK(entry.path().extension() == ".csv");
      names.insert(entry.path());
      CHECK(entry.path().string().find(std::to_string(::getpid())) == std::string::npos);
    }
  }
  CHECK(names.size() == 20);
  for (const mode_t mask : {mode_t{022}, mode_t{077}, mode_t{002}}) {
    const mode_t before = ::umask(mask);
    WholeFiles files(scratch.path / "out");
    files.add("map.csv", "x");
    files.commit();
    ::umask(before);
    struct stat seen {};
    REQUIRE(::stat((scratch.path / "out" / "map.csv").c_str(), &seen) == 0);
    CHECK((seen.st_mode & 0777U) == (0666U & ~mask));
  }
}

TEST_CASE("a link is replaced itself; what it leads to stays") {
  const Scratch scratch;
  write(scratch.path / "precious", "old");
  fs::create_directory(scratch.path / "out");
  fs::create_symlink(scratch.path / "precious", scratch.path / "out" / "a.txt");
  fs::create_symlink(scratch.path / "nowhere", scratch.path / "out" / "b.txt");
  {
    WholeFiles files(scratch.path / "out");
    files.add("a.txt", "new");
    files.add("b.txt", "new");
    files.commit();
  }
  for (const char* name : {"a.txt", "b.txt"}) {
    CHECK(fs::is_regular_file(fs::symlink_status(scratch.path / "out" / name)));
    CHECK(dishwright::testing::file_content(scratch.path / "out" / name) == "new");
  }
  CHECK(dishwright::testing::file_content(scratch.path / "precious") == "old");
  CHECK_FALSE(fs::exists(scratch.path / "nowhere"));
  // If another file fails, the links are there again.
  fs::create_symlink(scratch.path / "precious", scratch.path / "out" / "c.txt");
  {
    WholeFiles files(scratch.path / "out");
    files.add("c.txt", "new");
    files.add(std::string(300, 'd'), "new");
    CHECK_THROWS_AS(files.commit(), WriteError);
  }
  CHECK(fs::read_symlink(scratch.path / "out" / "c.txt") == scratch.path / "precious");
}

TEST_CASE("what must stay is kept, a link that leads nowhere too") {
  const Scratch scratch;
  write(scratch.path / "a.txt", "old");
  fs::create_symlink(scratch.path / "nowhere", scratch.path / "b.txt");
  for (const char* name : {"a.txt", "b.txt"}) {
    WholeFiles files(scratch.path);
    files.add(name, "new", dishwright::Standing::kept);
    CHECK_THROWS_AS(files.commit(), WriteError);
  }
  CHECK(dishwright::testing::file_content(scratch.path / "a.txt") == "old");
  CHECK_FALSE(fs::exists(scratch.path / "nowhere"));
  WholeFiles files(scratch.path);
  files.add("c.txt", "new", dishwright::Standing::kept);
  files.commit();
  CHECK(dishwright::testing::file_content(scratch.path / "c.txt") == "new");
  CHECK(entries(scratch.path) == 3);
}

TEST_CASE("a pipe where a result should stand") {
  const Scratch scratch;
  REQUIRE(::mkfifo((scratch.path / "a.txt").c_str(), 0600) == 0);
  WholeFiles files(scratch.path);
  files.add("a.txt", "new");
  CHECK_THROWS_WITH_AS(files.commit(),
                       ("could not write " + (scratch.path / "a.txt").string() + ": something else has that name").c_str(),
                       WriteError);
}

TEST_CASE("a folder without the right to write") {
  const Scratch scratch;
  fs::create_directory(scratch.path / "shut");
  fs::permissions(scratch.path, fs::perms::all);
  fs::permissions(scratch.path / "shut",
                  fs::perms::owner_read | fs::perms::owner_exec | fs::perms::others_read | fs::perms::others_exec);
  // The administrator may write everywhere: be somebody else meanwhile.
  constexpr uid_t somebody = 65534;
  const bool administrator = ::geteuid() == 0;
  if (administrator) REQUIRE(::seteuid(somebody) == 0);
  std::string said, deeper;
  try {
    WholeFiles(scratch.path / "shut").prepare();
  } catch (const WriteError& error) {
    said = error.what();
  }
  try {
    WholeFiles(scratch.path / "shut" / "out").prepare();
  } catch (const WriteError& error) {
    deeper = error.what();
  }
  if (administrator) REQUIRE(::seteuid(0) == 0);
  CHECK(said == "could not write in the folder " + (scratch.path / "shut").string() + ": no permission");
  CHECK(deeper == "could not make the folder " + (scratch.path / "shut" / "out").string() + ": no permission");
  fs::permissions(scratch.path / "shut", fs::perms::owner_all);
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

TEST_CASE("a folder that cannot be made") {
  const Scratch scratch;
  write(scratch.path / "taken", "");
  WholeFiles files(scratch.path / "taken" / "out");
  CHECK_THROWS_WITH_AS(
      files.add("a", ""),
      ("could not make the folder " + (scratch.path / "taken" / "out").string() + ": something else has that name").c_str(),
      WriteError);
}

TEST_CASE("a folder that is a link to nowhere") {
  const Scratch scratch;
  fs::create_symlink(scratch.path / "nowhere", scratch.path / "out");
  WholeFiles files(scratch.path / "out");
  CHECK_THROWS_WITH_AS(
      files.prepare(),
      ("could not make the folder " + (scratch.path / "out").string() + ": a link that leads to no folder has that name").c_str(),
      WriteError);
  CHECK_FALSE(fs::exists(scratch.path / "nowhere"));
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
  write(scratch.path / "huge", "");
  fs::resize_file(scratch.path / "huge", 1'000'000'000'000);  // takes no room on the disk
  CHECK_THROWS_AS(read_file(scratch.path / "huge", 400'000'000), InputError);
}
