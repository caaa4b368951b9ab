// SPDX-License-Identifier: MIT
#include "command/example_files.h"

#include <filesystem>
#include <vector>

namespace dishwright {

namespace {

namespace fs = std::filesystem;

/// Folders that may hold the examples, the nearest first.
std::vector<fs::path> example_folders() {
  std::vector<fs::path> folders = {"scenes", "../scenes"};
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  if (error) return folders;
  const fs::path above = program.parent_path().parent_path();
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
