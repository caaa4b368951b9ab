// SPDX-License-Identifier: MIT
// Bad project files and the exact words that answer them. tests/messages/NAME.toml (bytes of any kind) is read with the --set
// options of NAME.args (one a line; a line "--as WORD" sets --as), and the text of the error must equal NAME.txt.
//
// To rewrite the .txt files after a change of words:  DISHWRIGHT_REWRITE=1 ./dishwright_tests_scenefile   then read the
// difference.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "base/error.h"
#include "folders.h"
#include "gallery.h"
#include "scenefile/read_scene.h"

using namespace dishwright;
namespace fs = std::filesystem;

namespace {

fs::path gallery() { return testing::source_folder() / "tests" / "messages"; }

ReadOptions options_of(const fs::path& args) {
  ReadOptions options;
  std::ifstream stream(args);
  for (std::string line; std::getline(stream, line);) {
    if (line.rfind("--as ", 0) == 0) {
      options.as = line.substr(5);
    } else if (!line.empty()) {
      options.set.push_back(line);
    }
  }
  return options;
}

std::string answer(const fs::path& file) {
  try {
    read_scene(file, options_of(fs::path(file).replace_extension(".args")));
  } catch (const InputError& error) {
    return error.what();
  }
  return testing::not_refused;
}

}  // namespace

TEST_CASE("every bad file is answered in its exact words") {
  testing::check_gallery(
      gallery(), 432, [](const std::string& ending) { return ending == ".toml"; }, answer);
}
