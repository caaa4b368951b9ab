// SPDX-License-Identifier: MIT
// Two runs with other settings leave two folders, each with its own pictures; the same settings write over their own.
#include "command/kept_results.h"

#include <doctest/doctest.h>

#include "command/shell.h"

using namespace dishwright::testing;

TEST_CASE("results of other settings stay, and the screen says where the new ones are") {
  const Shell shell;
  const std::string trace = "\"$DW\" trace \"$SCENES/kettle-dish.toml\" --set trace.paths=2000 ";
  const auto digest = [&](const std::string& folder) {
    const std::string text = file_content(shell.here() / folder / "figures.json");
    return text.empty() ? std::string("none") : nlohmann::json::parse(text)["scene_digest"].get<std::string>();
  };
  const Ran first = shell.run(trace);
  REQUIRE(first.code == 0);
  CHECK_FALSE(holds(first.out, "other settings"));
  const std::string before = digest("out/kettle-dish"), picture = file_content(shell.here() / "out/kettle-dish/map.png");
  const Ran other = shell.run(trace + "--set 'sun.aim_error=2 deg'");
  CHECK(holds(other.out, "Written into out/kettle-dish-2:\n"));
  CHECK(holds(other.out,
              "Note: out/kettle-dish holds the results of other settings and stays as it is;\n"
              "  these are in out/kettle-dish-2.\n\nAnswer\n"));
  CHECK(digest("out/kettle-dish") == before);
  CHECK(file_content(shell.here() / "out/kettle-dish/map.png") == picture);
  CHECK(digest("out/kettle-dish-2") != before);
  // Each setting again: it finds its own folder.
  CHECK_FALSE(holds(shell.run(trace).out, "other settings"));
  CHECK(holds(shell.run(trace + "--set 'sun.aim_error=2 deg'").out, "Written into out/kettle-dish-2:\n"));
  CHECK(holds(shell.run(trace + "--set 'sun.aim_error=3 deg'").out, "Written into out/kettle-dish-3:\n"));
  CHECK(shell.files().count("out/kettle-dish-4/") == 0);
  // A folder that was asked for is written over, as asked.
  CHECK(holds(shell.run(trace + "--out out/kettle-dish --set 'sun.aim_error=2 deg'").out, "Written into out/kettle-dish:\n"));
  CHECK(digest("out/kettle-dish") == digest("out/kettle-dish-2"));
}

TEST_CASE("a folder with spoilt or strange figures.json is free") {
  const Shell shell;
  const auto folder = shell.here() / "f";
  for (const char* text : {"", "{", "[1, 2]", "{\"scene_digest\": 3}", "{}"}) {
    std::filesystem::create_directories(folder);
    shell.write("f/figures.json", text);
    CHECK(dishwright::results_folder(folder, "0123456789ab").folder == folder);
  }
  shell.write("f/figures.json", "{\"scene_digest\": \"ba9876543210\"}");
  CHECK(dishwright::results_folder(folder, "0123456789ab").folder == shell.here() / "f-2");
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder / "figures.json");
  CHECK(dishwright::results_folder(folder, "0123456789ab").folder == folder);
}
