// SPDX-License-Identifier: MIT
// Reading files in tests, and working in a folder of theirs.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace dishwright::testing {

/// Works in a folder while it lives, so that messages show file names without folders.
class InFolder {
 public:
  explicit InFolder(const std::filesystem::path& folder) : before_(std::filesystem::current_path()) {
    std::filesystem::current_path(folder);
  }
  ~InFolder() { std::filesystem::current_path(before_); }
  InFolder(const InFolder&) = delete;
  InFolder& operator=(const InFolder&) = delete;

 private:
  std::filesystem::path before_;
};

/// All bytes of a file; empty where there is none.
inline std::string file_content(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

}  // namespace dishwright::testing
