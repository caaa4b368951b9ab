// SPDX-License-Identifier: MIT
#include "base/files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>

#include "base/error.h"
#include "base/unfinished.h"

namespace dishwright {

namespace fs = std::filesystem;

namespace {

/// The cause in plain words; the rest in the system's.
std::string cause(int code) {
  switch (code) {
    case ENOSPC: return "no space left";
    case EDQUOT: return "the disk quota is used up";
    case EFBIG: return "the file would grow too large";
    case EACCES:
    case EPERM: return "no permission";
    case EROFS: return "the disk is read-only";
    case ENOTDIR:
    case EEXIST: return "something else has that name";
    case EISDIR: return "a folder has that name";
    case ENAMETOOLONG: return "the name is too long";
    default: return std::generic_category().message(code);
  }
}

[[noreturn]] void fail_to_write(const fs::path& goal, int code) {
  throw WriteError(fmt::format("could not write {}: {}", goal.string(), cause(code)));
}

/// A hidden name beside the goal that no other process uses; the ending stays, for libraries that go by it.
fs::path temporary_beside(const fs::path& goal, std::string_view word) {
  return goal.parent_path() / fmt::format(".{}.{}.{}{}", goal.stem().string(), ::getpid(), word, goal.extension().string());
}

/// Writes all bytes; returns 0 or the error's number. A signal in the middle only repeats the call.
int write_all(int file, const std::string& content) {
  std::size_t done = 0;
  while (done < content.size()) {
    const ssize_t step = ::write(file, content.data() + done, content.size() - done);
    if (step < 0 && errno == EINTR) continue;
    if (step < 0) return errno;
    if (step == 0) return ENOSPC;
    done += static_cast<std::size_t>(step);
  }
  return 0;
}

bool is_folder(const fs::path& path) {
  std::error_code ignored;
  return fs::is_directory(path, ignored);
}

/// Something of that name is there, be it a link that leads nowhere.
bool stands(const fs::path& path) {
  std::error_code ignored;
  return fs::exists(fs::symlink_status(path, ignored));
}

/// One file that is put in place, with what stood there before.
struct Move {
  fs::path temporary, goal, backup;  ///< backup is empty where nothing stood there
};

/// Keeps what stands at the goal under the backup name, then renames. Throws WriteError and leaves the goal as it was.
void put_in_place(Move& move) {
  if (stands(move.goal)) {
    move.backup = temporary_beside(move.goal, "old");
    std::error_code code;
    fs::remove(move.backup, code);
    // A second name keeps the goal there at every moment; file systems without them take a rename.
    if (::link(move.goal.c_str(), move.backup.c_str()) != 0) fs::rename(move.goal, move.backup, code);
    if (code) {
      move.backup.clear();
      fail_to_write(move.goal, code.value());
    }
  }
  if (::rename(move.temporary.c_str(), move.goal.c_str()) == 0) return;
  const int code = errno;
  if (!move.backup.empty()) ::rename(move.backup.c_str(), move.goal.c_str());
  // Two names of one file: rename() keeps both.
  if (!move.backup.empty()) ::unlink(move.backup.c_str());
  fail_to_write(move.goal, code);
}

void put_back(const Move& move) {
  if (move.backup.empty()) {
    ::unlink(move.goal.c_str());
  } else {
    ::rename(move.backup.c_str(), move.goal.c_str());
  }
}

}  // namespace

WholeFiles::WholeFiles(fs::path folder) : folder_(std::move(folder)) {
  if (folder_.empty()) folder_ = ".";
}

WholeFiles::~WholeFiles() {
  const Hold hold = hold_the_end();
  std::error_code ignored;
  for (const auto& [temporary, goal] : pending_) {
    fs::remove(temporary, ignored);
    forget_unfinished(temporary);
  }
  // After commit() the list is empty. Otherwise folders that were made go again, deepest first, if they are empty.
  for (auto made = made_folders_.rbegin(); made != made_folders_.rend(); ++made) {
    fs::remove(*made, ignored);
    forget_unfinished(*made);
  }
}

void WholeFiles::make_folder() {
  if (is_folder(folder_)) return;
  std::vector<fs::path> missing;
  for (fs::path part = fs::absolute(folder_).lexically_normal(); !part.empty() && !is_folder(part); part = part.parent_path()) {
    if (part.has_filename()) missing.push_back(part);
    if (part == part.parent_path()) break;
  }
  const Hold hold = hold_the_end();
  for (auto part = missing.rbegin(); part != missing.rend(); ++part) {
    if (::mkdir(part->c_str(), 0777) == 0) {
      made_folders_.push_back(*part);
      note_unfinished(*part);
    } else if (!is_folder(*part)) {  // another process may have been faster
      throw WriteError(fmt::format("could not make the folder {}: {}", folder_.string(), cause(errno)));
    }
  }
}

void WholeFiles::prepare() {
  make_folder();
  const Hold hold = hold_the_end();
  const fs::path probe = temporary_beside(folder_ / "probe", "part");
  const int file = ::open(probe.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  if (file < 0) throw WriteError(fmt::format("could not write in the folder {}: {}", folder_.string(), cause(errno)));
  ::close(file);
  ::unlink(probe.c_str());
}

fs::path WholeFiles::reserve(const std::string& name) {
  make_folder();
  const fs::path goal = folder_ / name;
  const bool twice = std::any_of(pending_.begin(), pending_.end(), [&](const auto& entry) { return entry.second == goal; });
  if (twice) throw std::logic_error("two outputs of the name " + name);
  pending_.emplace_back(temporary_beside(goal, "part"), goal);
  const Hold hold = hold_the_end();
  note_unfinished(pending_.back().first);
  return pending_.back().first;
}

void WholeFiles::add(const std::string& name, const std::string& content) {
  const fs::path temporary = reserve(name);
  Hold hold = hold_the_end();
  const int file = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
  if (file < 0) fail_to_write(folder_ / name, errno);
  hold.unlock();
  int code = write_all(file, content);
  if (::close(file) != 0 && code == 0) code = errno;
  if (code != 0) fail_to_write(folder_ / name, code);
}

void WholeFiles::commit() {
  const Hold hold = hold_the_end();
  // What can be seen beforehand is found before anything is renamed.
  for (const auto& [temporary, goal] : pending_) {
    if (is_folder(goal)) fail_to_write(goal, EISDIR);
    if (!stands(temporary)) throw WriteError(fmt::format("could not write {}: its temporary file is gone", goal.string()));
  }
  std::vector<Move> moved;
  for (const auto& [temporary, goal] : pending_) {
    Move move{temporary, goal, {}};
    try {
      put_in_place(move);
    } catch (const WriteError&) {
      for (auto done = moved.rbegin(); done != moved.rend(); ++done) put_back(*done);
      throw;
    }
    moved.push_back(std::move(move));
  }
  for (const Move& move : moved) {
    if (!move.backup.empty()) ::unlink(move.backup.c_str());
  }
  for (const auto& [temporary, goal] : pending_) forget_unfinished(temporary);
  for (const fs::path& made : made_folders_) forget_unfinished(made);
  pending_.clear();
  made_folders_.clear();
}

std::string read_file(const fs::path& path, std::size_t largest) {
  // A pipe or a device may never end: its kind is looked at before it is opened.
  std::error_code code;
  const fs::file_status status = fs::status(path, code);
  if (status.type() == fs::file_type::not_found) {
    throw InputError(fmt::format("{} is not there", path.string()), "", "check the name and the folder");
  }
  if (fs::is_directory(status))
    throw InputError(fmt::format("{} is a folder", path.string()), "a file is wanted", "name a file in it");
  if (status.type() != fs::file_type::none && !fs::is_regular_file(status)) {
    throw InputError(fmt::format("{} is not an ordinary file", path.string()), "", "name a file");
  }
  const auto unreadable = [&] {
    return InputError(fmt::format("{} could not be read", path.string()), "", "check its permissions");
  };
  const int file = ::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  if (file < 0) throw unreadable();
  std::string content;
  std::string block(1 << 16, '\0');
  ssize_t got = 1;
  while (content.size() <= largest && got != 0) {
    got = ::read(file, block.data(), block.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) break;
    content.append(block, 0, static_cast<std::size_t>(got));
  }
  ::close(file);
  if (got < 0) throw unreadable();
  if (content.size() > largest) {
    throw InputError(fmt::format("{} is too large", path.string()), fmt::format("at most {} bytes are read", largest),
                     "name another file");
  }
  return content;
}

}  // namespace dishwright
