// SPDX-License-Identifier: MIT
// Sources: every key that code, tests and pages cite stands in docs/references.bib, and every entry there is cited.
#include <doctest/doctest.h>

#include <filesystem>
#include <regex>
#include <set>
#include <string>

#include "folders.h"
#include "test_files.h"

namespace fs = std::filesystem;

namespace {

using Names = std::set<std::string>;

Names entries_of(const std::string& bib) {
  static const std::regex entry(R"(@\w+\{(\w+),)");
  Names names;
  for (std::sregex_iterator at(bib.begin(), bib.end(), entry), end; at != end; ++at) names.insert((*at)[1]);
  return names;
}

/// Names in brackets that end in a year, alone or with a section behind them; and entries without one.
void add_cited(const std::string& text, const Names& entries, Names& cited) {
  static const std::regex brackets(R"(\[([^\[\]]*)\])"), word(R"([A-Za-z_]\w*)"), key(R"([a-z]{3,}(18|19|20)\d\d)");
  for (std::sregex_iterator in(text.begin(), text.end(), brackets), end; in != end; ++in) {
    const std::string held = (*in)[1];
    for (std::sregex_iterator at(held.begin(), held.end(), word); at != end; ++at) {
      const std::string name = (*at)[0];
      if (entries.contains(name) || std::regex_match(name, key)) cited.insert(name);
    }
  }
}

}  // namespace

TEST_CASE("sources: cited keys and the entries of docs/references.bib are the same") {
  const fs::path root = dishwright::testing::source_folder();
  const Names entries = entries_of(dishwright::testing::file_content(root / "docs" / "references.bib"));
  REQUIRE(entries.size() >= 30);
  Names cited;
  for (const char* folder : {"src", "tests", "docs"}) {
    for (const auto& file : fs::recursive_directory_iterator(root / folder)) {
      const std::string ending = file.path().extension().string();
      if (ending == ".h" || ending == ".cpp" || ending == ".md")
        add_cited(dishwright::testing::file_content(file.path()), entries, cited);
    }
  }
  for (const std::string& name : cited) CHECK_MESSAGE(entries.contains(name), name << " is cited, but is no entry");
  for (const std::string& name : entries) CHECK_MESSAGE(cited.contains(name), name << " is an entry that nothing cites");
}
