// SPDX-License-Identifier: MIT
// Bad project files and the exact words that answer them. tests/messages/NAME.toml (bytes of any kind) is read with the --set options of
// NAME.args (one a line; a line "--as WORD" sets --as), and the text of the error must equal NAME.txt.
//
// To rewrite the .txt files after a change of words:  DISHWRIGHT_REWRITE=1 ./dishwright_tests_scenefile   then read the difference.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "base/error.h"
#include "scenefile/read_scene.h"
#include "test_files.h"

using namespace dishwright;
namespace fs = std::filesystem;

namespace {

fs::path gallery() { return fs::absolute(fs::path(__FILE__)).parent_path().parent_path() / "messages"; }

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
  return "read without error\n";
}

std::vector<fs::path> bad_files() {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(".")) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path().filename());
  }
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

TEST_CASE("every bad file is answered in its exact words") {
  const testing::InFolder here(gallery());
  const std::vector<fs::path> files = bad_files();
  CHECK(files.size() >= 80);
  const bool rewrite = std::getenv("DISHWRIGHT_REWRITE") != nullptr;
  for (const fs::path& file : files) {
    const std::string got = answer(file);
    CAPTURE(file.string());
    CHECK(got != "read without error\n");
    const fs::path expected = fs::path(file).replace_extension(".txt");
    if (rewrite) std::ofstream(expected, std::ios::binary) << got;
    CHECK(got == testing::file_content(expected));
  }
}
