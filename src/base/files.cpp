// SPDX-License-Identifier: MIT
#include "base/files.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <fstream>

#include "base/error.h"

namespace dishwright {

namespace fs = std::filesystem;

namespace {

std::string reason(const std::error_code& code) { return code.message(); }

/// A hidden name beside the goal that no other process uses; the ending stays, for libraries that go by it.
fs::path temporary_beside(const fs::path& goal) {
  return goal.parent_path() / fmt::format(".{}.{}.part{}", goal.stem().string(), ::getpid(), goal.extension().string());
}

}  // namespace

WholeFiles::WholeFiles(fs::path folder) : folder_(std::move(folder)) {}

WholeFiles::~WholeFiles() {
  std::error_code ignored;
  for (const auto& [temporary, goal] : pending_) fs::remove(temporary, ignored);
  if (committed_) return;
  // Nothing was committed: folders that were made for it go again, deepest first (only if empty).
  for (auto made = made_folders_.rbegin(); made != made_folders_.rend(); ++made) fs::remove(*made, ignored);
}

void WholeFiles::make_folder() {
  std::error_code code;
  if (fs::is_directory(folder_, code)) return;
  std::vector<fs::path> missing;
  for (fs::path part = fs::absolute(folder_).lexically_normal(); !part.empty() && !fs::exists(part, code); part = part.parent_path()) {
    if (part.has_filename()) missing.push_back(part);
    if (part == part.parent_path()) break;
  }
  for (auto part = missing.rbegin(); part != missing.rend(); ++part) {
    if (fs::create_directory(*part, code)) made_folders_.push_back(*part);
    if (code) break;
  }
  if (!fs::is_directory(folder_)) {
    std::error_code ignored;
    for (auto made = made_folders_.rbegin(); made != made_folders_.rend(); ++made) fs::remove(*made, ignored);
    throw WriteError(fmt::format("could not make the folder {}: {}", folder_.string(), code ? reason(code) : "something else has that name"));
  }
}

void WholeFiles::prepare() {
  make_folder();
  const fs::path probe = temporary_beside(folder_ / "probe");
  std::ofstream file(probe);
  file << ' ';
  file.close();
  std::error_code ignored;
  fs::remove(probe, ignored);
  if (!file) throw WriteError(fmt::format("could not write in the folder {}: {}", folder_.string(), std::strerror(errno)));
}

fs::path WholeFiles::reserve(const std::string& name) {
  make_folder();
  const fs::path goal = folder_ / name;
  pending_.emplace_back(temporary_beside(goal), goal);
  return pending_.back().first;
}

void WholeFiles::add(const std::string& name, const std::string& content) {
  const fs::path temporary = reserve(name);
  errno = 0;
  std::ofstream file(temporary, std::ios::binary | std::ios::trunc);
  file.write(content.data(), static_cast<std::streamsize>(content.size()));
  file.close();
  if (!file) throw WriteError(fmt::format("could not write {}: {}", (folder_ / name).string(), std::strerror(errno != 0 ? errno : EIO)));
}

void WholeFiles::commit() {
  // A goal that cannot be replaced (a folder of that name) is found before anything is renamed.
  std::error_code code;
  for (const auto& [temporary, goal] : pending_) {
    if (fs::is_directory(goal, code)) throw WriteError(fmt::format("could not write {}: a folder has that name", goal.string()));
    if (!fs::exists(temporary, code)) throw WriteError(fmt::format("could not write {}: its temporary file is gone", goal.string()));
  }
  for (const auto& [temporary, goal] : pending_) {
    fs::rename(temporary, goal, code);
    if (code) throw WriteError(fmt::format("could not write {}: {}", goal.string(), reason(code)));
  }
  pending_.clear();
  committed_ = true;
}

std::string read_file(const fs::path& path, std::size_t largest) {
  std::error_code code;
  const fs::file_status status = fs::status(path, code);
  if (!fs::exists(status)) throw InputError(fmt::format("{} is not there", path.string()), "", "check the name and the folder");
  if (fs::is_directory(status)) throw InputError(fmt::format("{} is a folder", path.string()), "a file is wanted", "name a file in it");
  if (!fs::is_regular_file(status)) throw InputError(fmt::format("{} is not an ordinary file", path.string()), "", "name a file");
  const std::uintmax_t size = fs::file_size(path, code);
  if (code || size > largest) {
    throw InputError(fmt::format("{} is too large", path.string()), fmt::format("at most {} bytes are read", largest), "name another file");
  }
  std::ifstream file(path, std::ios::binary);
  std::string content(static_cast<std::size_t>(size), '\0');
  file.read(content.data(), static_cast<std::streamsize>(size));
  if (!file) throw InputError(fmt::format("{} could not be read", path.string()), "", "check its permissions");
  return content;
}

}  // namespace dishwright
