// SPDX-License-Identifier: MIT
// docs/scene-file.md must be what the key table says.
// To write it again:  DISHWRIGHT_REWRITE=1 ./dishwright_tests_scenefile
#include "scenefile/reference.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "folders.h"
#include "scenefile/keys.h"
#include "scenefile/read_scene.h"
#include "test_files.h"

using namespace dishwright;
namespace fs = std::filesystem;

TEST_CASE("docs/scene-file.md is written from the key table") {
  const fs::path page = testing::source_folder() / "docs" / "scene-file.md";
  if (std::getenv("DISHWRIGHT_REWRITE") != nullptr) std::ofstream(page, std::ios::binary) << scene_file_reference();
  INFO("to write it again: DISHWRIGHT_REWRITE=1 ./dishwright_tests_scenefile");
  CHECK(testing::file_content(page) == scene_file_reference());
}

TEST_CASE("the project file in the page reads without error") {
  const std::string page = scene_file_reference();
  const std::size_t from = page.find("```toml\n") + 8;
  const Scene scene = read_scene_text(page.substr(from, page.find("```", from) - from), "page.toml", {});
  CHECK(scene.title == "Kettle dish");
}

TEST_CASE("every row of the key table is whole") {
  for (const KeyRow& row : all_keys()) {
    CAPTURE(std::string(row.key));
    CHECK_FALSE(row.help.empty());
    CHECK_FALSE(row.example.empty());
    for (const std::string& shape : split_words(row.shapes)) {
      const auto shapes = shapes_of(row.section);
      CHECK(std::find(shapes.begin(), shapes.end(), shape) != shapes.end());
    }
    if (row.kind == ValueKind::quantity || row.kind == ValueKind::number || row.kind == ValueKind::whole)
      CHECK(row.low < row.high);
    if (row.kind == ValueKind::quantity && !row.standard.empty()) {
      const auto standard = parse_quantity(row.standard, row.dimension);
      REQUIRE(std::holds_alternative<Quantity>(standard));
      CHECK(std::get<Quantity>(standard).value >= row.low);
      CHECK(std::get<Quantity>(standard).value <= row.high);
    }
  }
}
