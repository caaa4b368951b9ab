// SPDX-License-Identifier: MIT
#include "scenefile/source.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/files.h"
#include "base/nearest.h"

namespace dishwright {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t largest = 4'000'000;  // bytes of a project file
constexpr int longest_shown = 160;          // characters of a source line in a message

bool is_later_byte(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

[[noreturn]] void refuse(const std::string& file, int line, std::string what, std::string why, std::string fix) {
  throw InputError(
      std::vector<Problem>{Problem{file, line, line > 0 ? 1 : 0, 1, "", std::move(what), std::move(why), std::move(fix)}});
}

[[noreturn]] void refuse_too_large(const std::string& file) {
  refuse(file, 0, "the file is too large for a project file", "a project file is 4 MB at most",
         "give the name of a project file");
}

void check_utf8(const std::string& text, const std::string& file) {
  const int line = first_line_not_utf8(text);
  if (line == 0) return;
  refuse(file, line, fmt::format("line {} holds bytes that are not UTF-8 text", line), "a project file is plain text in UTF-8",
         "save the file again as UTF-8 in your editor");
}

bool is_blank(const std::string& text) { return text.find_first_not_of(" \t\r\n") == std::string::npos; }

/// "; did you mean …" for a file that is not there.
std::string fix_for_missing(const fs::path& path) {
  std::vector<std::string> names;
  std::error_code error;
  if (fs::is_symlink(path, error)) return "it is a link that leads nowhere: mend the link, or name the file itself";
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  constexpr std::size_t enough = 1000;
  for (fs::directory_iterator i(folder, error), end; !error && i != end && names.size() < enough; i.increment(error)) {
    names.push_back(i->path().filename().string());
  }
  std::sort(names.begin(), names.end());
  const std::string nearest = nearest_word(path.filename().string(), names);
  if (nearest.empty()) return "check the name and the folder; `dishwright new` writes a first project file";
  return fmt::format("write {}, the nearest name in that folder", printable((path.parent_path() / nearest).string()));
}

}  // namespace

Source::Source(std::string text, const std::string& file_name) : file_(printable(file_name)), text_(std::move(text)) {
  starts_.push_back(0);
  for (std::size_t i = 0; i < text_.size(); ++i) {
    if (text_[i] == '\n') starts_.push_back(i + 1);
  }
}

std::string_view Source::line(int number) const {
  if (number < 1 || number > line_count()) return {};
  const std::size_t from = starts_[static_cast<std::size_t>(number - 1)];
  const std::size_t to = number < line_count() ? starts_[static_cast<std::size_t>(number)] - 1 : text_.size();
  std::string_view found = std::string_view(text_).substr(from, to - from);
  if (!found.empty() && found.back() == '\r') found.remove_suffix(1);
  return found;
}

std::string_view Source::before_line(int number) const {
  return std::string_view(text_).substr(0, starts_[static_cast<std::size_t>(number - 1)]);
}

std::string Source::slice(int number, int from, int to) const {
  std::string out;
  constexpr int farthest = 1000;  // characters; keeps a line of millions of values from being walked millions of times
  if (from > farthest) return out;
  int column = 0;
  for (const char c : line(number)) {
    if (!is_later_byte(c)) ++column;
    if (column >= to) break;
    if (column >= from) out += c;
  }
  return out;
}

Problem Source::problem(const Place& place, std::string what, std::string why, std::string fix) const {
  Problem problem{file_, place.line, place.column, place.width, "", std::move(what), std::move(why), std::move(fix)};
  if (place.line == 0 || place.column + 20 > longest_shown) return problem;
  const std::string_view text = line(place.line);
  problem.source_line = clipped(text.substr(0, 4 * longest_shown + 4), longest_shown);
  problem.width = std::clamp(place.width, 1, std::max(1, character_count(problem.source_line) - place.column + 1));
  return problem;
}

Source check_source(std::string text, const std::string& file_name) {
  const std::string file = printable(file_name);
  if (text.size() > largest) refuse_too_large(file);
  if (text.find('\0') != std::string::npos) {
    refuse(file, 0, "the file is not text", "it holds zero bytes, as pictures, drawings and programs do",
           "give the name of a project file (plain text, TOML)");
  }
  if (text.rfind("\xEF\xBB\xBF", 0) == 0) text.erase(0, 3);
  check_utf8(text, file);
  if (is_blank(text))
    refuse(file, 0, "the file is empty", "a project file describes a sun, a mirror and a target",
           "start from the file that `dishwright new` writes");
  return Source(std::move(text), file);
}

Source read_source(const fs::path& path) {
  const std::string file = printable(path.string());
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) {
    refuse(file, 0, "there is no such file", "", fix_for_missing(path));
  }
  if (status.type() == fs::file_type::directory) {
    refuse(file, 0, "this is a folder, not a project file", "",
           "give the name of a file in it, such as " + printable((path / "kettle.toml").string()));
  }
  if (status.type() == fs::file_type::none)
    refuse(file, 0, "the file cannot be looked at", error.message(), "check the name and the folder's permissions");
  if (status.type() != fs::file_type::regular) {
    refuse(file, 0, "this is a device or pipe, not a file", "a project file is read whole, from a disk",
           "save the text in a file and give its name");
  }
  FileBytes found = file_bytes(path, largest);
  if (found.fault == FileBytes::Fault::too_large) refuse_too_large(file);
  if (found.fault != FileBytes::Fault::none)
    refuse(file, 0, "the file cannot be opened", "you may not be allowed to read it", "check the file's permissions");
  return check_source(std::move(found.bytes), file);
}

}  // namespace dishwright
