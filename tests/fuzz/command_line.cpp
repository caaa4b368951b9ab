// SPDX-License-Identifier: MIT
// Command lines, a word a line: done, or refused with words.
#include <algorithm>
#include <regex>
#include <sstream>

#include "driver.h"
#include "folders.h"

namespace dishwright::fuzz {

const char* const name = "command_line";

namespace fs = std::filesystem;

std::vector<fs::path> corpus() { return files_below("tests/fuzz/corpus/command_line", ".txt"); }

std::vector<std::string> words() {
  return {"\n--json\n",
          "\n--units\nsi\n",
          "\n--set\n",
          "sun.aim_error=2 deg",
          "\n--threads\n2\n",
          "\n--as\nsound\n",
          "\n--vary\n",
          "\n--help\n",
          "\n--out\nx\n",
          "\n--replay\n3\n",
          "=",
          ":",
          "\n",
          "-",
          "\n--loss\n",
          "1 dB",
          "90 %",
          "kettle-dish.toml",
          "nothing.toml",
          "\n--figure\npower",
          "\n--method\nrays",
          "sphere",
          "sun.aim_error=0 deg:2 deg:3",
          "\n--frequency\n2 kHz\n",
          "\xff",
          "\n--paper\na4\n",
          "\n--found\n"};
}

namespace {

/// The scratch folder with the examples in it, small enough to be quick.
void make_folder() {
  for (const auto& entry : fs::directory_iterator(".")) fs::remove_all(entry.path());
  for (const auto& entry : fs::directory_iterator(testing::source_folder() / "scenes")) {
    const std::string ending = entry.path().extension().string();
    if (ending == ".toml" || ending == ".csv") fs::copy_file(entry.path(), entry.path().filename());
  }
}

/// Nothing is written outside the scratch folder.
bool leads_out(const std::string& word) { return word.find("..") != std::string::npos || word.find('/') != std::string::npos; }

}  // namespace

void answer(const Input& input) {
  static int count = 0;
  if (count++ % 200 == 0) make_folder();
  std::vector<std::string> all;
  std::istringstream lines(input.bytes);
  for (std::string line; std::getline(lines, line);) {
    if (line.find('\0') != std::string::npos || leads_out(line)) return;
    if (!line.empty() || all.size() % 2 == 1) all.push_back(line);
  }
  // Few paths for every command that traces, and few points: work that was asked for is no hang.
  static const std::regex many_points(":[0-9]{3,4}$");
  for (std::string& word : all) word = std::regex_replace(word, many_points, ":40");
  const bool with_scene = std::find(all.begin(), all.end(), "--scene") != all.end();
  if (!all.empty() && (all[0] == "trace" || all[0] == "compare" || all[0] == "sweep" || all[0] == "tolerance" || with_scene))
    all.insert(all.begin() + 1, {"--set", "trace.paths=512"});
  run(all);
}

}  // namespace dishwright::fuzz
