// SPDX-License-Identifier: MIT
// The screen of every command: 80 columns, the answer last, and words of the method only where they are asked for.
#include <doctest/doctest.h>

#include <sstream>

#include "command/refused.h"
#include "report/numbers/text_layout.h"

using namespace dishwright::testing;

namespace {

const std::string few = " --set trace.paths=4000";

struct Call {
  std::string words;   ///< what is typed after the program's name
  std::string answer;  ///< the heading of what stands last
};

/// Every command, and every example.
const Call calls[] = {
    {"trace \"$SCENES/kettle-dish.toml\"" + few, "Answer"},
    {"trace \"$SCENES/kettle-dish.toml\" --method auto --units si" + few, "Answer"},
    {"trace \"$SCENES/kettle-bowl.toml\"" + few, "Answer"},
    {"trace \"$SCENES/kettle-as-built.toml\"" + few, "Answer"},
    {"trace \"$SCENES/griddle-trough.toml\"" + few, "Answer"},
    {"trace \"$SCENES/five-shapes.toml\"" + few, "Answer"},
    {"trace \"$SCENES/yard-lamp.toml\"" + few, "Answer"},
    {"trace \"$SCENES/bird-song-dish.toml\"", "Answer"},
    {"trace \"$SCENES/balloon-dish.toml\" --set 'radio.frequency=[1234.5 MHz, 1680 MHz, 2345.6 MHz, 3456.7 MHz, 4567.8 MHz]'",
     "Answer"},
    {"trace \"$SCENES/three-uses.toml\" --as all" + few, "One dish, several uses"},
    {"compare \"$SCENES/kettle-dish.toml\" \"$SCENES/kettle-bowl.toml\"" + few, "Verdict"},
    {"compare \"$SCENES/yard-lamp.toml\" --shape paraboloid,sphere,facets" + few, "Verdict"},
    {"compare \"$SCENES/bird-song-dish.toml\" --shape paraboloid,sphere --set 'sound.frequency=[500 Hz, 2 kHz]'", "Verdict"},
    {"sweep \"$SCENES/griddle-trough.toml\" --vary 'sun.aim_error=0 deg:2 deg:3' --figure intercept --figure spot_width_90 "
     "--figure power --figure peak_irradiance" +
         few,
     "Answer"},
    {"sweep \"$SCENES/kettle-dish.toml\" --vary 'sun.aim_error=0 deg:2 deg:2' --vary 'target.kettle.offset.z=-2.125 in:2 in:9'" +
         few,
     "Answer"},
    {"sweep \"$SCENES/balloon-dish.toml\" --vary 'target.feed.offset.z=-6 in:6 in:3' --figure gain --figure surface", "Answer"},
    {"tolerance \"$SCENES/kettle-dish.toml\"" + few, "Verdict"},
    {"tolerance \"$SCENES/balloon-dish.toml\"", "Verdict"},
    {"survey \"$SCENES/kettle-readings.csv\" --scene \"$SCENES/kettle-dish.toml\"", "What to do first"},
};

/// What stands below the files that were written; nothing where none are told.
std::string last_part(const std::string& text) {
  const std::size_t written = text.rfind("\nWritten into ");
  return written == std::string::npos ? "" : text.substr(text.find("\n\n", written + 1) + 1);
}

void check_screen(const Ran& ran, const Call& call) {
  CAPTURE(ran.err);
  const bool answered = ran.code == 0 || ran.code == 1;
  REQUIRE(answered);
  std::istringstream lines(ran.out);
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("Written into /")) continue;  // a path is not cut
    CHECK_MESSAGE(dishwright::characters(line) <= 80, line);
    CHECK_MESSAGE(!line.ends_with(' '), line);
  }
  CHECK_MESSAGE(last_part(ran.out).starts_with("\n" + call.answer + "\n"), last_part(ran.out));
  for (const char* word : {"replicate", "quadrature"}) CHECK_MESSAGE(!holds(ran.out, word), word);
}

}  // namespace

TEST_CASE("every screen: 80 columns, the answer below the files, no word of replicates or quadrature" *
          doctest::test_suite("slow")) {
  const Shell shell;
  for (const Call& call : calls) {
    CAPTURE(call.words);
    check_screen(shell.run("\"$DW\" " + call.words + " --out d"), call);
  }
}

TEST_CASE("--verbose tells how the figures were found") {
  const Shell shell;
  const auto told = [&](const std::string& words) { return shell.run("\"$DW\" " + words + " --verbose --out d").out; };
  CHECK(holds(told(calls[0].words), "32 replicates"));
  CHECK(holds(told(calls[1].words), "mirror quadrature"));
  CHECK(holds(told("trace \"$SCENES/balloon-dish.toml\""), "places on the mirror"));
  CHECK(holds(told(calls[10].words), "in 32 replicates"));
  CHECK(holds(told("sweep \"$SCENES/kettle-dish.toml\" --vary 'sun.aim_error=0 deg:2 deg:2' --method rays" + few),
              "All points by rays"));
}

TEST_CASE("--verbose is refused where it would tell nothing") {
  const Shell shell;
  const std::string kettle = " \"$SCENES/kettle-dish.toml\" ";
  check_refused(shell, "trace" + kettle + "--verbose --json", "--verbose does nothing with --json");
  check_refused(shell, "trace" + kettle + "--verbose --replay 1", "--verbose does nothing with --replay");
  check_refused(shell, "compare" + kettle + "--shape sphere,flat --verbose --json", "--verbose does nothing with --json");
  check_refused(shell, "sweep" + kettle + "--vary 'sun.aim_error=0 deg:2 deg:2' --verbose --json", "--verbose does nothing");
  check_refused(shell, "tolerance" + kettle + "--verbose --json", "--verbose does nothing with --json");
  check_refused(shell, "survey --form" + kettle + "--verbose", "--verbose does nothing with --form");
  check_refused(shell, "survey --found --width 4ft --depth 1ft --verbose", "--verbose does nothing with --found");
  check_refused(shell, "survey \"$SCENES/kettle-readings.csv\" --verbose --json", "--verbose does nothing with --json");
}
