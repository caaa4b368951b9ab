// SPDX-License-Identifier: MIT
// The longest names that a file may have, in every text: no column runs into the next.
#include <doctest/doctest.h>

#include <sstream>

#include "command/hot_plate.h"
#include "command/shell.h"
#include "command/wave_files.h"
#include "report/numbers/text_layout.h"

using namespace dishwright::testing;

namespace {

const std::string mirror = "a_mirror_with_a_name_of_forty_characters", target = "a_target_with_a_name_of_forty_characters";

std::string renamed(std::string text, const std::string& name, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(name, at)) != std::string::npos; at += to.size()) text.replace(at, name.size(), to);
  return text;
}

/// The name is followed by a blank, a mark or the end of the line.
void check_apart(const std::string& text, const std::string& name) {
  std::size_t found = 0;
  for (std::size_t at = text.find(name); at != std::string::npos; at = text.find(name, at + 1)) {
    const char next = at + name.size() < text.size() ? text[at + name.size()] : '\n';
    const bool apart = std::string(" \n,.:;()[]=-'\"").find(next) != std::string::npos;
    CHECK_MESSAGE(apart, text.substr(at > 10 ? at - 10 : 0, name.size() + 40));
    ++found;
  }
  CHECK(found > 0);
}

/// No line is wider than 80 columns but the title; what is written where may be, for a path is not cut.
void check_width(const std::string& text) {
  std::istringstream lines(text.substr(text.find('\n'), text.find("Written into") - text.find('\n')));
  for (std::string line; std::getline(lines, line);) CHECK_MESSAGE(dishwright::characters(line) <= dishwright::text_width, line);
}

void check_text(const Shell& shell, const std::string& words, const std::string& name) {
  CAPTURE(words);
  const Ran ran = shell.run("\"$DW\" " + words + " --out d");
  CAPTURE(ran.err);
  const bool answered = ran.code == 0 || ran.code == 1;
  REQUIRE(answered);
  check_apart(ran.out, name);
  check_width(ran.out);
}

}  // namespace

TEST_CASE("texts with long names") {
  const Shell shell;
  shell.write("plate.toml", renamed(renamed(hot_plate("3 in"), "dish", mirror), "plate", target));
  shell.write("sound.toml",
              renamed(renamed(sound_dish("frequency = [\"1 kHz\", \"2 kHz\"]"), "dish", mirror), "microphone", target));
  std::string readings = "ring [in],clock [h],depth [in]\n0,12,6\n";
  for (const int ring : {8, 16, 24}) {
    for (int hour = 1; hour <= 12; ++hour)
      readings += std::to_string(ring) + "," + std::to_string(hour) + "," + std::to_string(6 - ring * ring / 96.0) + "\n";
  }
  shell.write("r.csv", readings);
  check_text(shell, "trace plate.toml", target);
  check_text(shell, "compare plate.toml --shape paraboloid,sphere", target);
  check_text(shell,
             "sweep plate.toml --vary 'reflector." + mirror + ".slope_error=0 mrad:5 mrad:3' --vary 'target." + target +
                 ".offset.z=0 in:1 in:2' --figure intercept --figure power",
             target);
  check_text(shell, "survey r.csv --scene plate.toml", target);
  check_text(shell, "trace sound.toml", target);
}

TEST_CASE("tables of files with long names") {
  const Shell shell;
  const std::string name = "a-file-name-that-is-longer-than-any-column-of-any-table-of-ours";
  for (const char* ending : {"-one.toml", "-two.toml"}) {
    shell.write(name + ending, hot_plate("3 in").substr(hot_plate("3 in").find('\n')));
    shell.write("w" + name + ending, sound_dish("frequency = \"2 kHz\""));
  }
  check_text(shell, "compare " + name + "-one.toml " + name + "-two.toml", name);
  const Ran waves = shell.run("\"$DW\" compare w" + name + "-one.toml w" + name + "-two.toml --out d");
  CAPTURE(waves.err);
  CHECK(waves.code == 0);
  check_width(waves.out);
}
