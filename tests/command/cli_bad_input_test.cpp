// SPDX-License-Identifier: MIT
// What the program says of bad input: exit 2, words on standard error, nothing on standard output, nothing written.
#include <doctest/doctest.h>

#include <random>
#include <string>
#include <vector>

#include "command/refused.h"
#include "folders.h"

using namespace dishwright::testing;

namespace {

const std::string kettle = "trace \"$SCENES/kettle-dish.toml\" ";

}  // namespace

TEST_CASE("bad command lines") {
  const Shell shell;
  check_refused(shell, "", "ommand");
  check_refused(shell, "juggle", "juggle");
  check_refused(shell, "trace", "SCENE");
  check_refused(shell, kettle + "--frobnicate", "--frobnicate");
  check_refused(shell, kettle + "left-over", "left-over");
  check_refused(shell, kettle + "--threads 0", "--threads");
  check_refused(shell, kettle + "--threads many", "--threads");
  check_refused(shell, kettle + "--units furlong", "furlong");
  check_refused(shell, kettle + "--replay -1", "--replay");
  check_refused(shell, kettle + "--as smoke", "smoke");
  check_refused(shell, kettle + "--out", "--out");
}

TEST_CASE("bad --set") {
  const Shell shell;
  check_refused(shell, kettle + "--set nonsense", "nonsense");
  check_refused(shell, kettle + "--set reflector.dish.wdith=36in", "reflector.dish.wdith");
  check_refused(shell, kettle + "--set reflector.dish.width=36", "reflector.dish.width=36");
  check_refused(shell, kettle + "--set 'sun.aim_error=3 furlongs'", "sun.aim_error=3 furlongs");
  check_refused(shell, kettle + "--set trace.paths=0", "trace.paths=0");
  check_refused(shell, kettle + "--set trace.paths=1000000000000000", "trace.paths=1000000000000000");
}

TEST_CASE("files that are no project file") {
  const Shell shell;
  check_refused(shell, "trace nowhere.toml", "nowhere.toml");
  std::filesystem::create_directory(shell.here() / "folder.toml");
  check_refused(shell, "trace folder.toml", "folder.toml");
  shell.write("binary.toml", std::string("\x7f"
                                         "ELF\0\1\2\xff\xfe",
                                         9));
  check_refused(shell, "trace binary.toml", "binary.toml");
  shell.write("latin.toml", "title = \"caf\xe9\"\n");
  check_refused(shell, "trace latin.toml", "latin.toml:1");
  shell.write("empty.toml", "");
  check_refused(shell, "trace empty.toml", "empty.toml");
  REQUIRE(shell.run("mkfifo pipe.toml && truncate -s 100M large.toml && ln -s loop.toml loop.toml").code == 0);
  check_refused(shell, "trace pipe.toml", "pipe.toml");
  check_refused(shell, "trace large.toml", "large.toml");
  check_refused(shell, "trace loop.toml", "loop.toml");
  check_refused(shell, "trace /dev/zero", "/dev/zero");
}

TEST_CASE("bad numbers of paths in the file") {
  const Shell shell;
  for (const char* paths : {"0", "1000000000000000", "-5"}) {
    REQUIRE(shell.run(std::string("sed 's/^paths.*/paths = ") + paths + "/' \"$SCENES/kettle-dish.toml\" > p.toml").code == 0);
    check_refused(shell, "trace p.toml", "paths");
  }
}

// 150 spoilt copies of the examples: the program answers or refuses in words, and never dies.
TEST_CASE("spoilt project files" * doctest::test_suite("slow")) {
  const Shell shell;
  std::mt19937 random(20240607);
  const auto below = [&](std::size_t count) { return random() % count; };
  const std::vector<std::string> pieces = {"\"", "[",   "]",   "=", "#", "-",    "1e308", "0",
                                           "\n", " in", "nan", "{", ".", "\xc3", "9999"};
  int answered = 0;
  for (int round = 0; round < 150; ++round) {
    const char* const names[] = {"kettle-dish", "kettle-bowl", "griddle-trough", "yard-lamp"};
    std::string text = file_content(source_folder() / "scenes" / (names[round % 4] + std::string(".toml")));
    REQUIRE(text.size() > 100);
    const std::size_t changes = 1 + below(4);
    for (std::size_t change = 0; change < changes; ++change) {
      const std::size_t place = below(text.size());
      switch (below(5)) {
        case 0: text.erase(place, 1 + below(12)); break;
        case 1: text.insert(place, pieces[below(pieces.size())]); break;
        case 2: text[place] = static_cast<char>(below(256)); break;
        case 3: text.insert(place, text.substr(below(text.size()), below(60))); break;
        default:  // another digit: values beyond their interval, often still a good file
          if (const std::size_t digit = text.find_first_of("0123456789", place); digit != std::string::npos) {
            text[digit] = static_cast<char>('0' + below(10));
          }
      }
    }
    shell.write("spoilt.toml", text);
    const Ran ran = shell.run("timeout 20 \"$DW\" trace spoilt.toml --json --set trace.paths=200");
    CAPTURE(text);
    CAPTURE(ran.err);
    const bool fine = ran.code == 0 || ran.code == 2;
    CHECK(fine);
    if (ran.code == 0) {
      ++answered;
      CHECK(nlohmann::json::accept(ran.out));
    } else {
      CHECK(ran.out.empty());
      CHECK(holds(ran.err, "spoilt.toml"));
      CHECK_FALSE(holds(ran.err, "fault of the program"));
    }
  }
  CHECK(shell.files() == std::set<std::string>{"spoilt.toml"});
  // Both ends of the road were met.
  CHECK(answered > 10);
  CHECK(answered < 140);
}
