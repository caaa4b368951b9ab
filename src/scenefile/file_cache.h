// SPDX-License-Identifier: MIT
// Files that project files name, read once for all the scenes of one command.
#pragma once

#include <any>
#include <filesystem>
#include <map>
#include <memory>
#include <string>

namespace dishwright {

class FileCache {
 public:
  /// What `load` makes of a file, made once for each `what` (everything that the making depends on). `load` may throw; then
  /// nothing is kept.
  template <typename Load>
  auto get(const std::string& what, const Load& load) -> std::shared_ptr<const decltype(load())> {
    using Kept = std::shared_ptr<const decltype(load())>;
    std::any& place = kept_[what];
    if (!place.has_value()) place = Kept(std::make_shared<decltype(load())>(load()));
    return std::any_cast<Kept>(place);
  }

 private:
  std::map<std::string, std::any> kept_;
};

/// Where the files that a project file names are looked up, and kept.
struct FilesBeside {
  std::filesystem::path folder;  ///< of the project file
  std::shared_ptr<FileCache> cache;
  /// May messages show what stands in the file? Only in or below the project file's folder, links followed: a project file that
  /// came from somebody else can name any file of this machine.
  bool shows(const std::filesystem::path& file) const;
};

}  // namespace dishwright
