// SPDX-License-Identifier: MIT
#include "report/trace/outputs.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "report/figures_sample.h"
#include "scratch.h"
#include "test_files.h"

namespace fs = std::filesystem;
using namespace dishwright;
using dishwright::testing::Scratch;

namespace {

std::vector<std::string> names_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

void write_all(const fs::path& folder, const TraceFigures& figures, MapFiles more = {}) {
  Scene scene = sample::kettle_scene();
  while (scene.targets.size() < figures.targets.size()) scene.targets.push_back(scene.targets[0]);
  const std::string name = "kettle-dish", digest = "0123456789ab";
  WholeFiles files(folder);
  const Result result{scene, name, digest, figures, Units::us};
  add_outputs(result, "{}\n", map_cards(result), letter_page, files, more);
  files.commit();
}

}  // namespace

TEST_CASE("one target: four files, a fifth where it is asked for, the same at every writing") {
  const Scratch scratch;
  write_all(scratch.path / "plain", sample::kettle_figures());
  CHECK(names_in(scratch.path / "plain") == std::vector<std::string>{"figures.json", "map.csv", "map.png", "safety.pdf"});
  write_all(scratch.path / "a", sample::kettle_figures(), {false, true});
  CHECK(names_in(scratch.path / "a") == std::vector<std::string>{"figures.json", "map.csv", "map.exr", "map.png", "safety.pdf"});
  write_all(scratch.path / "b", sample::kettle_figures(), {false, true});
  for (const std::string& name : names_in(scratch.path / "a"))
    CHECK_MESSAGE(testing::file_content(scratch.path / "a" / name) == testing::file_content(scratch.path / "b" / name), name);
  const std::string exr = testing::file_content(scratch.path / "a" / "map.exr");
  for (const char* note : {"power_W", "power_std_error_W", "y_to_m", "kettle"})
    CHECK_MESSAGE(exr.find(note) != std::string::npos, note);
}

TEST_CASE("a pot: both faces are in one EXR file, and nothing is written beside the folder") {
  const Scratch scratch;
  TraceFigures figures = sample::kettle_figures();
  figures.targets[0].map.push_back(figures.targets[0].map[0]);
  figures.targets[0].map[1].name = "base";
  write_all(scratch.path / "out", figures, {false, true});
  const std::string exr = testing::file_content(scratch.path / "out" / "map.exr");
  CHECK(exr.find("front") != std::string::npos);
  CHECK(exr.find("base") != std::string::npos);
  CHECK_FALSE(fs::exists("map.exr"));
  CHECK(names_in(scratch.path).size() == 1);
}

TEST_CASE("EXR rows run from the largest y down") {
  // A block that does not shrink is stored as it is (OpenEXR file layout), so that the floats can be found.
  const Scratch scratch;
  TraceFigures figures = sample::kettle_figures();
  MapFace& face = figures.targets[0].map[0];
  face.columns = face.rows = 2, face.round = false;
  face.irradiance = {1.25, 847.3, 3.5e4, 0.0123};  // row 0 is the lowest y
  write_all(scratch.path, figures, {false, true});
  const std::vector<float> wanted{3.5e4F, 0.0123F, 1.25F, 847.3F};
  std::string bytes(4 * sizeof(float), '\0');
  std::memcpy(bytes.data(), wanted.data(), bytes.size());
  CHECK(testing::file_content(scratch.path / "map.exr").find(bytes) != std::string::npos);
}

TEST_CASE("several targets: their names in the files' names, without signs that folders mind") {
  const Scratch scratch;
  TraceFigures figures = sample::kettle_figures();
  figures.targets.push_back(figures.targets[0]);
  figures.targets[1].name = "../egg cup";
  write_all(scratch.path / "out", figures, {false, true});
  const auto names = names_in(scratch.path / "out");
  CHECK(names.size() == 8);
  CHECK(std::count(names.begin(), names.end(), "map-kettle.png") == 1);
  CHECK(names_in(scratch.path).size() == 1);
  CHECK_FALSE(fs::exists("map.exr"));
  for (const std::string& name : names) CHECK(name.find_first_of(" /") == std::string::npos);
}
