// SPDX-License-Identifier: MIT
#include "base/files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <random>
#include <stdexcept>

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
    case ELOOP: return "links lead in a circle";
    case ENOENT: return "a folder on the way to it is not there";
    case EISDIR: return "a folder has that name";
    case ENAMETOOLONG: return "the name is too long";
    default: return std::generic_category().message(code);
  }
}

[[noreturn]] void fail_to_write(const fs::path& goal, int code) {
  throw WriteError(fmt::format("could not write {}: {}", goal.string(), cause(code)));
}

/// A hidden name that nobody can guess, in the folder of `goal`; the ending stays.
fs::path hidden_beside(const fs::path& goal, std::string_view word) {
  std::uint64_t chance = 0;
  if (::getentropy(&chance, sizeof(chance)) != 0) chance = std::random_device{}();
  const std::string ending = goal.extension().string();
  constexpr std::size_t longest_ending = 40;  // bytes; longer ones may not fit a name
  return goal.parent_path() / fmt::format(".dishwright-{:016x}.{}{}", chance, word, ending.size() > longest_ending ? "" : ending);
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

/// Gives the temporary file its name where nothing has it. 0 or the error's number.
int take_free_name(const Move& move) {
#ifdef RENAME_NOREPLACE
  if (::renameat2(AT_FDCWD, move.temporary.c_str(), AT_FDCWD, move.goal.c_str(), RENAME_NOREPLACE) == 0) return 0;
  if (errno != EINVAL && errno != ENOSYS) return errno;
#endif
  // Some file systems cannot do both at once.
  if (stands(move.goal)) return EEXIST;
  return ::rename(move.temporary.c_str(), move.goal.c_str()) == 0 ? 0 : errno;
}

/// Keeps what stands at the goal under the backup name, then renames. Throws WriteError and leaves the goal as it was.
void put_in_place(Move& move) {
  if (stands(move.goal)) {
    move.backup = hidden_beside(move.goal, "old");
    std::error_code code;
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
  inner_.clear();  // before the folder that they stand in
  std::error_code ignored;
  for (const Pending& one : pending_) {
    fs::remove(one.temporary, ignored);
    forget_unfinished(one.temporary);
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
      continue;
    }
    const int code = errno;
    if (is_folder(*part)) continue;  // another process was faster
    std::error_code ignored;
    const bool link = code == EEXIST && fs::is_symlink(fs::symlink_status(*part, ignored));
    throw WriteError(fmt::format("could not make the folder {}: {}", folder_.string(),
                                 link ? "a link that leads to no folder has that name" : cause(code)));
  }
}

std::pair<fs::path, int> WholeFiles::make_temporary(const fs::path& name) {
  make_folder();
  const Hold hold = hold_the_end();
  constexpr int tries = 100;
  for (int i = 0; i < tries; ++i) {
    fs::path temporary = hidden_beside(folder_ / name, "part");
    const int file = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
    if (file >= 0) {
      note_unfinished(temporary);
      return {std::move(temporary), file};
    }
    if (errno != EEXIST) break;
  }
  throw WriteError(fmt::format("could not write in the folder {}: {}", folder_.string(), cause(errno)));
}

void WholeFiles::prepare() {
  const Hold hold = hold_the_end();
  const auto [probe, file] = make_temporary("probe");
  ::close(file);
  ::unlink(probe.c_str());
  forget_unfinished(probe);
}

void WholeFiles::add(const std::string& name, const std::string& content, Standing standing) {
  const fs::path goal = folder_ / name;
  const bool twice = std::any_of(pending_.begin(), pending_.end(), [&](const Pending& one) { return one.goal == goal; });
  if (twice) throw std::logic_error("two outputs of the name " + name);
  const auto [temporary, file] = make_temporary(name);
  pending_.push_back({temporary, goal, standing});
  int code = write_all(file, content);
  if (::close(file) != 0 && code == 0) code = errno;
  if (code != 0) fail_to_write(goal, code);
}

void WholeFiles::put_all(const std::vector<Pending>& pending) {
  // What can be seen beforehand is found before anything is renamed.
  for (const auto& [temporary, goal, standing] : pending) {
    std::error_code ignored;
    const fs::file_type kind = fs::symlink_status(goal, ignored).type();
    if (kind == fs::file_type::directory) fail_to_write(goal, EISDIR);
    const bool free = kind == fs::file_type::not_found || kind == fs::file_type::none;
    const bool file = kind == fs::file_type::regular || kind == fs::file_type::symlink;
    if (!free && (!file || standing == Standing::kept)) fail_to_write(goal, EEXIST);
    if (!stands(temporary)) throw WriteError(fmt::format("could not write {}: its temporary file is gone", goal.string()));
  }
  std::vector<Move> moved;
  for (const auto& [temporary, goal, standing] : pending) {
    Move move{temporary, goal, {}};
    try {
      if (standing == Standing::replaced) {
        put_in_place(move);
      } else if (const int code = take_free_name(move); code != 0) {
        fail_to_write(goal, code);
      }
    } catch (const WriteError&) {
      for (auto done = moved.rbegin(); done != moved.rend(); ++done) put_back(*done);
      throw;
    }
    moved.push_back(std::move(move));
  }
  for (const Move& move : moved) {
    if (!move.backup.empty()) ::unlink(move.backup.c_str());
  }
}

WholeFiles& WholeFiles::inner(const std::string& name) { return inner_.emplace_back(folder_ / name); }

void WholeFiles::collect(std::vector<Pending>& pending) const {
  pending.insert(pending.end(), pending_.begin(), pending_.end());
  for (const WholeFiles& one : inner_) one.collect(pending);
}

void WholeFiles::forget() {
  for (WholeFiles& one : inner_) one.forget();
  for (const Pending& done : pending_) forget_unfinished(done.temporary);
  for (const fs::path& made : made_folders_) forget_unfinished(made);
  pending_.clear();
  made_folders_.clear();
}

void WholeFiles::commit() {
  const Hold hold = hold_the_end();
  std::vector<Pending> pending;
  collect(pending);
  put_all(pending);
  forget();
}

namespace {

/// Reads to the end or until more than `largest` bytes are there. False where reading fails.
bool read_to_end(int file, std::size_t largest, std::string& content) {
  std::string block(1 << 16, '\0');
  while (content.size() <= largest) {
    const ssize_t got = ::read(file, block.data(), block.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return false;
    if (got == 0) return true;
    content.append(block, 0, static_cast<std::size_t>(got));
  }
  return true;
}

}  // namespace

FileBytes file_bytes(const fs::path& path, std::size_t largest) {
  using Fault = FileBytes::Fault;
  // A pipe or a device may never end: its kind is looked at before it is opened.
  std::error_code code;
  const fs::file_status status = fs::status(path, code);
  if (status.type() == fs::file_type::not_found) return {Fault::missing, ""};
  if (fs::is_directory(status)) return {Fault::folder, ""};
  if (status.type() != fs::file_type::none && !fs::is_regular_file(status)) return {Fault::strange, ""};
  const int file = ::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (file < 0) return {Fault::unreadable, ""};
  FileBytes found;
  struct stat now {};
  if (::fstat(file, &now) != 0 || !S_ISREG(now.st_mode)) {
    found.fault = Fault::strange;
  } else {
    // A size that is told beforehand spares the reading.
    const bool told = now.st_size > 0 && static_cast<std::size_t>(now.st_size) > largest;
    const bool read = told || read_to_end(file, largest, found.bytes);
    if (!read) found.fault = Fault::unreadable;
    if (told || (read && found.bytes.size() > largest)) found.fault = Fault::too_large;
  }
  ::close(file);
  if (found.fault != Fault::none) found.bytes.clear();
  return found;
}

std::string read_file(const fs::path& path, std::size_t largest) {
  FileBytes found = file_bytes(path, largest);
  const std::string name = path.string();
  switch (found.fault) {
    case FileBytes::Fault::none: return std::move(found.bytes);
    case FileBytes::Fault::missing: throw FileRefused(fmt::format("{} is not there", name), "", "check the name and the folder");
    case FileBytes::Fault::folder:
      throw FileRefused(fmt::format("{} is a folder", name), "a file is wanted", "name a file in it");
    case FileBytes::Fault::strange: throw FileRefused(fmt::format("{} is not an ordinary file", name), "", "name a file");
    case FileBytes::Fault::unreadable: throw FileRefused(fmt::format("{} could not be read", name), "", "check its permissions");
    case FileBytes::Fault::too_large:
      throw FileRefused(fmt::format("{} is too large", name), fmt::format("at most {} bytes are read", largest),
                        "name another file");
  }
  return "";
}

}  // namespace dishwright
