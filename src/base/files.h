// SPDX-License-Identifier: MIT
// Outputs are written whole or not at all: everything goes to temporary files beside the goal, then is renamed.
#pragma once

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace dishwright {

/// Collects the files of one command, then puts them all in place at the end. If anything fails, or commit() is never
/// called, the temporary files are removed and what stood there before is untouched.
class WholeFiles {
 public:
  /// `folder` is made when the first file is added (with its parents). Throws WriteError.
  explicit WholeFiles(std::filesystem::path folder);
  ~WholeFiles();
  WholeFiles(const WholeFiles&) = delete;
  WholeFiles& operator=(const WholeFiles&) = delete;

  /// Makes the folder and checks that files can be made in it: before long work, not after. Throws WriteError.
  void prepare();
  /// Writes `content` to a temporary file; it becomes folder/name at commit(). Throws WriteError.
  void add(const std::string& name, const std::string& content);
  /// A temporary path with the same ending, for a library that writes the file itself; it becomes folder/name at commit().
  std::filesystem::path reserve(const std::string& name);
  const std::filesystem::path& folder() const { return folder_; }
  /// Renames all into place. Throws WriteError.
  void commit();

 private:
  void make_folder();
  std::filesystem::path folder_;
  std::vector<std::filesystem::path> made_folders_;  // deepest last; removed again if nothing is committed
  std::vector<std::pair<std::filesystem::path, std::filesystem::path>> pending_;  // temporary, final
};

/// The whole content of a file. Throws InputError in plain words for: missing, a directory or device, unreadable, over
/// `largest` bytes.
std::string read_file(const std::filesystem::path& path, std::size_t largest);

}  // namespace dishwright
