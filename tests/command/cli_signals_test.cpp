// SPDX-License-Identifier: MIT
// Ctrl-C, a closed terminal or pipe, at any time of any command: exit 130, whole files or none.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "command/hot_plate.h"
#include "command/signalled.h"
#include "effort.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

using Words = std::vector<std::string>;

std::string scene(const char* name) { return (source_folder() / "scenes" / name).string(); }

/// A dish with a sweep of `points` values; each point takes some milliseconds.
Words sweep_words(int points, const std::string& paths) {
  return {"sweep",    "plate.toml", "--vary", "sun.aim_error=0 deg:4 deg:" + std::to_string(points),
          "--method", "rays",       "--set",  "trace.paths=" + paths};
}

/// Readings of a paraboloid of focal length 24 in, by its formula.
std::string readings() {
  std::string text = "ring [in],clock [h],depth [in]\n0,12,6\n";
  for (const int ring : {8, 16, 24}) {
    for (int hour = 1; hour <= 12; ++hour)
      text += std::to_string(ring) + "," + std::to_string(hour) + "," + std::to_string(6 - ring * ring / 96.0) + "\n";
  }
  return text;
}

void prepare(const Shell& shell) {
  shell.write("plate.toml", hot_plate("3 in"));
  shell.write("readings.csv", readings());
}

/// What must hold however the run ended. `whole`: all files of an undisturbed run; `drawing`: how long the files of a part may
/// take [s].
void check_left(const Shell& shell, const Signalled& told, int signal, const std::set<std::string>& before,
                const std::set<std::string>& whole, double drawing) {
  const std::set<std::string> left = shell.files();
  for (const std::string& file : left) CHECK_MESSAGE(!holds(file, ".part"), file);
  const bool none = left == before, all = left == whole, early = told.code == 128 + signal;  // before the program has begun
  const bool fine = early ? none : told.code == 130 ? none || all : (told.code == 0 || told.code == 1) && all;
  std::string names;
  for (const std::string& file : left) names += file + " ";
  CHECK_MESSAGE(fine, names);
  // 0.4 s of patience, and what a busy machine adds.
  CHECK(told.reaction < 3 + drawing);
  if (drawing > 0 && all) {
    const json sweep = json::parse(file_content(shell.here() / "out/plate-sweep/sweep.json"));
    CHECK(sweep["points"].size() >= 1);
  }
}

/// Undisturbed once, then with signals at random times.
void try_at_random_times(const Words& words, int times, std::mt19937& random, bool keeps_a_part = false) {
  std::string shown;
  for (const std::string& word : words) shown += word + " ";
  CAPTURE(shown);
  Shell shell;
  prepare(shell);
  const std::set<std::string> before = shell.files();
  const Signalled whole_run = run_signalled(shell.here(), words, 0, 0);
  CAPTURE(whole_run.code);
  const bool answered = whole_run.code == 0 || whole_run.code == 1;
  REQUIRE(answered);
  const std::set<std::string> whole = shell.files();
  REQUIRE(whole.size() > before.size());
  for (int k = 0; k < times; ++k) {
    std::filesystem::remove_all(shell.here() / "out");
    const int signals[] = {SIGINT, SIGTERM, SIGHUP};
    const int signal = signals[random() % 3];
    const double after = std::uniform_real_distribution<>(0.003, whole_run.seconds)(random);
    CAPTURE(signal);
    CAPTURE(after);
    const Signalled told = run_signalled(shell.here(), words, signal, after);
    CAPTURE(told.code);
    CAPTURE(file_content(shell.here().parent_path() / "err"));
    check_left(shell, told, signal, before, whole, keeps_a_part ? whole_run.seconds : 0);
  }
}

}  // namespace

TEST_CASE("a signal at any time of any command: 130 and whole files or none" * doctest::test_suite("slow")) {
  std::mt19937 random(20250111);
  const int times = repeats(12);
  try_at_random_times({"trace", scene("kettle-dish.toml"), "--set", "trace.paths=3000000"}, times, random);
  try_at_random_times({"trace", scene("kettle-dish.toml"), "--method", "quadrature"}, times, random);
  try_at_random_times({"trace", scene("bird-song-dish.toml")}, times, random);
  try_at_random_times({"trace", scene("three-uses.toml"), "--as", "all"}, times, random);
  try_at_random_times({"compare", "plate.toml", "--shape", "paraboloid,sphere", "--best-position"}, times, random);
  try_at_random_times({"compare", scene("bird-song-dish.toml"), "--shape", "paraboloid,sphere"}, times, random);
  try_at_random_times(sweep_words(20, "50000"), times, random, true);
  try_at_random_times({"tolerance", "plate.toml"}, times, random);
  try_at_random_times({"survey", "readings.csv", "--scene", scene("kettle-dish.toml")}, times, random);
}

TEST_CASE("signals: the quick round") {
  std::mt19937 random(7);
  try_at_random_times({"trace", scene("kettle-dish.toml")}, 3, random);
  try_at_random_times({"survey", "readings.csv"}, 3, random);
}

TEST_CASE("each signal ends a long trace with 130; nohup keeps its promise") {
  Shell shell;
  prepare(shell);
  const Words words = {"trace", "plate.toml", "--set", "trace.paths=2000000000"};
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    CAPTURE(signal);
    // Long enough for the program to have begun, on a machine with other work, too.
    const Signalled told = run_signalled(shell.here(), words, signal, 0.5);
    CHECK(told.code == 130);
    CHECK(told.reaction < 1.5);
    CHECK(holds(file_content(shell.here().parent_path() / "err"), "interrupted"));
  }
  CHECK(shell.files() == std::set<std::string>{"plate.toml", "readings.csv"});
  const Ran kept = shell.run(
      "(trap '' HUP; exec \"$DW\" trace plate.toml --json --set trace.paths=8000000 > o) & sleep 0.1; kill -HUP $!; wait $!");
  CHECK(kept.code == 0);
  CHECK(json::accept(file_content(shell.here() / "o")));
}

TEST_CASE("an interrupted sweep keeps its finished points") {
  Shell shell;
  prepare(shell);
  // Twice at once, as a closed terminal does.
  const Ran ran = shell.run(
      "\"$DW\" sweep plate.toml --vary 'sun.aim_error=0 deg:4 deg:1000' --method rays --set trace.paths=200000 & "
      "sleep 3; kill -TERM $!; kill -HUP $!; wait $!");
  CAPTURE(ran.err);
  CHECK(ran.code == 130);
  const json sweep = json::parse(file_content(shell.here() / "out/plate-sweep/sweep.json"));
  CHECK(sweep["complete"] == false);
  CHECK(sweep["points"].size() >= 1);
  CHECK(sweep["points"].size() < 1000);
  for (const std::string& file : shell.files()) CHECK_FALSE(holds(file, ".part"));
}

TEST_CASE("a reader that goes away ends the program with 130, and no half file") {
  Shell shell;
  prepare(shell);
  for (const char* words : {"trace plate.toml", "trace plate.toml --json", "survey readings.csv", "trace plate.toml --replay 1",
                            "compare plate.toml --shape sphere,paraboloid", "trace --help"}) {
    CAPTURE(words);
    const Ran ran = shell.run(std::string("{ sleep 0.1; \"$DW\" ") + words + " 2>err; echo $? > code; } | :; cat code; rm code");
    CHECK(ran.out == "130\n");
    CHECK(holds(file_content(shell.here() / "err"), "standard output was closed"));
    for (const std::string& file : shell.files()) CHECK_FALSE(holds(file, ".part"));
  }
  // Nobody reads the end of it: the pipe fills, and Ctrl-C still counts.
  const Ran stuck = shell.run(
      "{ timeout --preserve-status -k 9 -s INT 2 \"$DW\" sweep plate.toml --json --method quadrature "
      "--vary 'sun.aim_error=0 deg:1 deg:200'; echo $? > code; } | sleep 4; cat code");
  CHECK(stuck.out == "130\n");
}

TEST_CASE("closed standard streams harm no file") {
  Shell shell;
  prepare(shell);
  CHECK(shell.run("\"$DW\" trace plate.toml --out d <&- 2>&-").code == 0);
  CHECK(json::accept(file_content(shell.here() / "d/figures.json")));
  CHECK(shell.run("\"$DW\" trace plate.toml --out e <&- >&- 2>&-").code == 3);
}
