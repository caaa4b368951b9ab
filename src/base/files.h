// SPDX-License-Identifier: MIT
// Outputs are written whole or not at all: everything goes to temporary files beside the goal, then is renamed.
#pragma once

#include <filesystem>
#include <list>
#include <string>
#include <utility>
#include <vector>

#include "base/error.h"

namespace dishwright {

/// What becomes of a file that has the name already. A link is a file of that name here: it is replaced itself, and nothing is
/// ever written through it.
enum class Standing { replaced, kept };

/// Collects the files of one command, then puts them all in place at the end. If anything fails, or commit() is never
/// called, the temporary files are removed and what stood there before is untouched.
///
/// Temporary files have names by chance, are made by this process (never a file or link that was there before), and have the
/// rights that the user's mask leaves to new files.
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
  void add(const std::string& name, const std::string& content, Standing standing = Standing::replaced);
  const std::filesystem::path& folder() const { return folder_; }
  /// A folder in this one, whose files are put in place together with its own.
  WholeFiles& inner(const std::string& name);
  /// Renames all into place, those of the inner folders too: all files or none. Throws WriteError.
  void commit();

 private:
  struct Pending {
    std::filesystem::path temporary, goal;
    Standing standing = Standing::replaced;
  };
  void make_folder();
  /// Adds the pending files of this folder and of the inner ones.
  void collect(std::vector<Pending>& pending) const;
  /// All stand in their places.
  void forget();
  /// Makes a temporary file with the ending of `name`; gives its path and its open descriptor.
  std::pair<std::filesystem::path, int> make_temporary(const std::filesystem::path& name);
  static void put_all(const std::vector<Pending>& pending);

  std::filesystem::path folder_;
  std::vector<std::filesystem::path> made_folders_;  // deepest last; removed again if nothing is committed
  std::vector<Pending> pending_;
  std::list<WholeFiles> inner_;
};

/// A file that cannot be read, whatever stands in it: it is missing, a folder, of the wrong ending …
class FileRefused : public InputError {
 public:
  using InputError::InputError;
};

/// What reading a file gave.
struct FileBytes {
  enum class Fault {
    none,
    missing,
    folder,
    strange,
    unreadable,
    too_large
  } fault = Fault::none;  ///< strange: a device, pipe or socket
  std::string bytes;
};

/// The whole content of a file of at most `largest` bytes. Never waits: a device or pipe is not opened, and a file that has
/// nothing to say yet is unreadable.
FileBytes file_bytes(const std::filesystem::path& path, std::size_t largest);

/// The same. Throws FileRefused in plain words.
std::string read_file(const std::filesystem::path& path, std::size_t largest);

}  // namespace dishwright
