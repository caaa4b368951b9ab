// SPDX-License-Identifier: MIT
#include "command/example_files.h"

#include <algorithm>

namespace dishwright {

namespace {

namespace fs = std::filesystem;

/// The folder of this program; empty where that cannot be told.
fs::path program_folder() {
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  return error ? fs::path() : program.parent_path();
}

/// Folders that may hold the examples, the nearest first.
std::vector<fs::path> example_folders() {
  std::vector<fs::path> folders = {"scenes", "../scenes"};
  const fs::path above = program_folder().parent_path();
  if (above.empty()) return folders;
  folders.push_back(above / "scenes");
  folders.push_back(above / "share/doc/dishwright/scenes");
  return folders;
}

bool is_file(const fs::path& path) {
  std::error_code ignored;
  return fs::is_regular_file(path, ignored);
}

}  // namespace

bool is_there(const std::string& name) {
  std::error_code ignored;
  return fs::exists(fs::symlink_status(name, ignored));
}

std::vector<fs::path> program_files(const std::string& name) {
  const fs::path folder = program_folder();
  return {folder / name, folder.parent_path() / "share/doc/dishwright" / name};
}

std::vector<fs::path> example_scenes() {
  std::vector<fs::path> all;
  const std::vector<fs::path> folders = example_folders();
  for (auto folder = folders.begin() + 2; folder != folders.end() && all.empty(); ++folder) {  // those that came with the program
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(*folder, ignored))
      if (entry.path().extension() == ".toml" && is_file(entry.path())) all.push_back(entry.path());
  }
  std::sort(all.begin(), all.end());
  return all;
}

std::string meant_project_file(const std::string& name) {
  const fs::path path(name);
  const bool whole = path.extension() == ".toml";
  if (!whole && is_file(name + ".toml")) return name + ".toml";
  // Only a bare name may be one of an example.
  if (path.has_parent_path() || name.empty()) return "";
  for (const fs::path& folder : example_folders()) {
    const fs::path example = folder / (whole ? name : name + ".toml");
    if (is_file(example)) return example.string();
  }
  return "";
}

}  // namespace dishwright
