// SPDX-License-Identifier: MIT
// Tables of depth readings: judged, or refused with words.
#include <fstream>

#include "driver.h"
#include "effort.h"
#include "folders.h"

namespace dishwright::fuzz {

const char* const name = "readings";

std::vector<std::filesystem::path> corpus() {
  std::vector<std::filesystem::path> all = {testing::source_folder() / "scenes" / "kettle-readings.csv"};
  for (const char* folder : {"tests/fuzz/corpus/readings", "tests/survey/messages"}) {
    for (const auto& file : files_below(folder, ".csv")) all.push_back(file);
  }
  return all;
}

std::vector<std::string> words() {
  return {",",
          "\n",
          ";",
          "\t",
          "\"",
          " 1/2",
          "3/16",
          "ring [in]",
          "clock [h]",
          "depth [in]",
          "x [in],y [in],depth [in]\n",
          "-",
          "12",
          "0",
          "7:30",
          "24:00",
          "#",
          "\xff",
          "½",
          "[mm]",
          "1e9",
          "0,12,0\n",
          "8,3,5 3/8\n"};
}

void answer(const Input& input) {
  std::ofstream("fuzz.csv", std::ios::binary) << input.bytes;
  std::vector<std::string> all = {"survey", "fuzz.csv", "--threads", "1"};
  const std::size_t how = choice(input, 4);
  if (how != 0) all.emplace_back("--json");
  if (how == 0) all.insert(all.end(), {"--json", "--shape", "sphere"});
  // A scene costs some twenty traces of a measured surface.
  if (choice(input, testing::sanitized ? 200 : 8) == 5) {
    const std::string scene = (testing::source_folder() / "scenes" / "kettle-dish.toml").string();
    all.insert(all.end(), {"--scene", scene, "--set", "trace.paths=512"});
  }
  run(all);
}

}  // namespace dishwright::fuzz
