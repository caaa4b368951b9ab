// SPDX-License-Identifier: MIT
// The house rules that a file can break by itself: who includes whom, library fences, one SPDX line, no endless file.
// The list of who may include whom is src/layers.txt; CMake links by the same list.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "folders.h"
#include "test_files.h"

namespace fs = std::filesystem;

namespace {

using Names = std::set<std::string>;
using Complaints = std::vector<std::string>;

struct Layers {
  std::map<std::string, Names> folders;               // folder → folders it may include
  std::vector<std::pair<std::string, Names>> fences;  // how a header's name begins → folders that may include it
  Complaints complaints;                              // what is wrong with the list itself
};

Names words_of(const std::string& text) {
  std::istringstream stream(text);
  Names names;
  for (std::string name; stream >> name;) names.insert(name);
  return names;
}

// A folder may name only folders above it, so the list cannot hold a cycle.
Layers read_layers(const std::string& text) {
  static const std::regex entry(R"((folder|fence) ([^:\s]+):(.*))");
  Layers layers;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::smatch match;
    if (!std::regex_match(line, match, entry)) {
      layers.complaints.push_back("not understood: " + line);
      continue;
    }
    const Names names = words_of(match[3]);
    for (const std::string& name : names) {
      if (!layers.folders.contains(name))
        layers.complaints.push_back(match[2].str() + " names " + name + ", which is not above it");
    }
    if (match[1] == "fence") {
      layers.fences.emplace_back(match[2], names);
    } else if (!layers.folders.emplace(match[2], names).second) {
      layers.complaints.push_back("twice: folder " + match[2].str());
    }
  }
  return layers;
}

Complaints check_ours(const Layers& layers, const std::string& folder, const std::string& header) {
  const auto slash = header.find('/');
  if (slash == std::string::npos) return {"\"" + header + "\" is not written with its folder"};
  const std::string other = header.substr(0, slash);
  if (!layers.folders.contains(other)) return {"\"" + header + "\": no such folder in src/layers.txt"};
  if (other == folder || layers.folders.at(folder).contains(other)) return {};
  return {folder + " may not include \"" + header + "\""};
}

Complaints check_outside(const Layers& layers, const std::string& folder, const std::string& header) {
  for (const auto& [prefix, may] : layers.fences) {
    if (header.starts_with(prefix) && !may.contains(folder)) return {"<" + header + "> is fenced off from " + folder};
  }
  return {};
}

// All #include lines of one file of a folder of src/.
Complaints check_includes(const Layers& layers, const std::string& folder, const std::string& text) {
  static const std::regex include(R"re(\s*#\s*include\s*(["<])([^">]+)[">].*)re");
  if (!layers.folders.contains(folder)) return {"folder " + folder + " has no line in src/layers.txt"};
  Complaints all;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) {
    std::smatch match;
    if (!std::regex_match(line, match, include)) continue;
    const Complaints some = match[1] == "\"" ? check_ours(layers, folder, match[2]) : check_outside(layers, folder, match[2]);
    all.insert(all.end(), some.begin(), some.end());
  }
  return all;
}

// One SPDX line, among the first two (a script's first line names its interpreter); at most 500 lines.
Complaints check_manners(const std::string& text) {
  Complaints all;
  std::istringstream stream(text);
  long lines = 0;
  long marks = 0;
  for (std::string line; std::getline(stream, line);) {
    ++lines;
    if (lines <= 2 && line.find("SPDX-License-Identifier: MIT") != std::string::npos) ++marks;
  }
  if (marks != 1) all.push_back("needs one SPDX line at its top");
  if (lines > 500) all.push_back("has more than 500 lines");
  return all;
}

std::vector<fs::path> code_below(const std::string& top) {
  static const Names endings = {".cpp", ".h", ".sh", ".py", ".js", ".css"};
  std::vector<fs::path> paths;
  const fs::path folder = dishwright::testing::source_folder() / top;
  if (!fs::exists(folder)) return paths;
  for (auto entries = fs::recursive_directory_iterator(folder); entries != fs::recursive_directory_iterator(); ++entries) {
    const fs::directory_entry& entry = *entries;
    if (entry.path().filename() == "node_modules") entries.disable_recursion_pending();  // other people's
    if (entry.is_regular_file() && endings.contains(entry.path().extension().string())) paths.push_back(entry.path());
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

void report(const fs::path& path, const Complaints& complaints) {
  for (const std::string& complaint : complaints) FAIL_CHECK(path.string(), ": ", complaint);
}

const char* const small_list = "# two folders\nfolder base:\nfolder trace: base\nfence embree: trace\n";

}  // namespace

TEST_CASE("every file of src/ includes only what its folder may include") {
  const fs::path src = dishwright::testing::source_folder() / "src";
  const Layers layers = read_layers(dishwright::testing::file_content(src / "layers.txt"));
  report(src / "layers.txt", layers.complaints);
  const std::vector<fs::path> files = code_below("src");
  CHECK(files.size() > 10);  // an empty walk would pass everything
  for (const fs::path& path : files) {
    const fs::path below = path.lexically_relative(src);
    // main.cpp stands beside the folders and belongs to the commands.
    const std::string folder = below.has_parent_path() ? below.begin()->string() : "command";
    report(path, check_includes(layers, folder, dishwright::testing::file_content(path)));
  }
}

TEST_CASE("every file has its SPDX line and an end in sight") {
  for (const char* top : {"src", "tests", "scenes"}) {
    for (const fs::path& path : code_below(top)) report(path, check_manners(dishwright::testing::file_content(path)));
  }
}

TEST_CASE("the include check finds what is wrong") {
  const Layers layers = read_layers(small_list);
  CHECK(layers.complaints.empty());
  CHECK(check_includes(layers, "trace", "#include \"base/error.h\"\n#include <embree3/rtcore.h>\n#include <cmath>\n").empty());
  CHECK(check_includes(layers, "base", "#include \"base/error.h\"\n").empty());
  CHECK(check_includes(layers, "base", "#include \"trace/world.h\"\n").size() == 1);
  CHECK(check_includes(layers, "base", "  #  include <embree3/rtcore.h>  // why not\n").size() == 1);
  CHECK(check_includes(layers, "base", "#include \"error.h\"\n").size() == 1);
  CHECK(check_includes(layers, "base", "#include \"nowhere/error.h\"\n").size() == 1);
  CHECK(check_includes(layers, "nowhere", "").size() == 1);
}

// Two types of one name in one namespace break the program without a word from compiler or linker.
TEST_CASE("no two headers give one name to two types") {
  static const std::regex type(R"((?:^|\n)(?:struct|class|enum class) (\w+)(?: final)?(?:\s*:[^;{]*)?\s*\{)");
  std::map<std::string, fs::path> places;
  for (const fs::path& file : code_below("src")) {
    if (file.extension() != ".h") continue;
    const std::string text = dishwright::testing::file_content(file);
    for (auto found = std::sregex_iterator(text.begin(), text.end(), type); found != std::sregex_iterator(); ++found) {
      const auto [other, fresh] = places.emplace((*found)[1], file);
      CAPTURE(file);
      CAPTURE(other->second);
      CHECK(fresh);
    }
  }
  CHECK(places.size() > 200);
}

TEST_CASE("the list of folders holds no cycle") {
  CHECK(read_layers("folder a: b\nfolder b:\n").complaints.size() == 1);
  CHECK(read_layers("folder a: a\n").complaints.size() == 1);
  CHECK(read_layers("folder a:\nfolder a:\n").complaints.size() == 1);
  CHECK(read_layers("folder a:\nfence x/: b\n").complaints.size() == 1);
  CHECK(read_layers("foldr a:\n").complaints.size() == 1);
}

TEST_CASE("the check of manners finds what is wrong") {
  const std::string mark = "// SPDX-License-Identifier: MIT\n";
  CHECK(check_manners(mark).empty());
  CHECK(check_manners("#!/usr/bin/env bash\n# SPDX-License-Identifier: MIT\n").empty());
  CHECK(check_manners("int x;\n").size() == 1);
  CHECK(check_manners(mark + mark).size() == 1);
  std::string tall = mark;
  for (int i = 0; i < 500; ++i) tall += "\n";
  CHECK(check_manners(tall).size() == 1);
}
