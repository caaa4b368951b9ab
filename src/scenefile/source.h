// SPDX-License-Identifier: MIT
// The bytes of a project file: read with care, split into lines, cut into pieces for messages.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "base/error.h"
#include "base/text.h"

namespace dishwright {

/// Where something stands. Columns and widths count characters (code points).
struct Place {
  int line = 0;    ///< 1-based; 0 = the whole file
  int column = 0;  ///< 1-based
  int width = 1;
  int set = -1;  ///< number of the --set option it comes from; -1 = the file. Columns then count in "--set KEY=VALUE"
};

/// A project file as text: UTF-8 without byte-order mark.
class Source {
 public:
  Source(std::string text, const std::string& file_name);

  const std::string& file() const { return file_; }
  const std::string& text() const { return text_; }
  int line_count() const { return static_cast<int>(starts_.size()); }
  /// The text of a line (1-based) without its end, as it stands.
  std::string_view line(int number) const;
  /// All lines before a line (1-based).
  std::string_view before_line(int number) const;
  /// Characters [from, to) of a line, columns 1-based.
  std::string slice(int number, int from, int to) const;
  /// A problem at a place; the source line is shown where it is short enough to be read.
  Problem problem(const Place& place, std::string what, std::string why, std::string fix) const;

 private:
  std::string file_, text_;
  std::vector<std::size_t> starts_;  // byte offset of each line
};

/// Reads a project file. Throws InputError: missing, a folder or device, over 4 MB, not text, not UTF-8, empty.
Source read_source(const std::filesystem::path& path);
/// The same checks for a text that is already there.
Source check_source(std::string text, const std::string& file_name);

}  // namespace dishwright
