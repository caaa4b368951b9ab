// SPDX-License-Identifier: MIT
// Galleries of bad input: each file NAME.* is answered in exactly the words of NAME.txt.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

#include "test_files.h"

namespace dishwright::testing {

/// What a file that should be refused answers when it is not.
inline constexpr const char* not_refused = "read without error\n";

/// Works in `folder`, so that messages show names without folders. `belongs(ending)` says which files are bad input,
/// `answer(file)` gives the words. `count`: how many there are, exactly, so that none is lost unseen. With DISHWRIGHT_REWRITE set
/// the .txt files are written anew.
template <class Belongs, class Answer>
void check_gallery(const std::filesystem::path& folder, std::size_t count, const Belongs& belongs, const Answer& answer) {
  const InFolder here(folder);
  std::vector<std::filesystem::path> files;
  std::size_t texts = 0;
  for (const auto& entry : std::filesystem::directory_iterator(".")) {
    if (entry.path().filename().string().front() == '.') continue;  // settings of git, not input
    if (belongs(entry.path().extension().string())) files.push_back(entry.path().filename());
    if (entry.path().extension() == ".txt") ++texts;
  }
  std::sort(files.begin(), files.end());
  {
    INFO("bad files in ", folder.string(), ": ", files.size(), ", not ", count,
         ". Added or removed one on purpose? Then write the new number into the test that calls check_gallery; else one was "
         "lost, or is not committed.");
    CHECK(files.size() == count);
  }
  const bool rewrite = std::getenv("DISHWRIGHT_REWRITE") != nullptr;
  for (const std::filesystem::path& file : files) {
    const std::string got = answer(file);
    CAPTURE(file.string());
    CHECK(got != not_refused);
    const std::filesystem::path expected = std::filesystem::path(file).replace_extension(".txt");
    if (rewrite) std::ofstream(expected, std::ios::binary) << got;
    CHECK(got == file_content(expected));
  }
  INFO("each bad file NAME.* has its words in NAME.txt, and no NAME.txt stands alone or for two of them: ", texts, " texts");
  CHECK((rewrite || texts == files.size()));
}

}  // namespace dishwright::testing
