// SPDX-License-Identifier: MIT
#include "shape/mesh_precheck.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <vector>

#include "base/error.h"
#include "base/text.h"
#include "shape/ply_precheck.h"

namespace dishwright {

namespace {

constexpr std::size_t stl_head = 84, stl_triangle = 50;  // bytes of binary STL

[[noreturn]] void refuse(std::string what, std::string why, std::string fix = "export the mesh again") {
  throw InputError(std::move(what), std::move(why), std::move(fix));
}

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\f' || c == '\v'; }

/// Words of a text one by one, with their line.
class Words {
 public:
  explicit Words(std::string_view text) : text_(text) {}
  std::string_view next() {
    while (at_ < text_.size() && is_blank(text_[at_])) line_ += text_[at_++] == '\n' ? 1 : 0;
    const std::size_t from = at_;
    while (at_ < text_.size() && !is_blank(text_[at_])) ++at_;
    return text_.substr(from, at_ - from);
  }
  /// Passes over the rest of the line; gives where it began and ended.
  std::pair<std::size_t, std::size_t> rest_of_line() {
    const std::size_t from = at_;
    while (at_ < text_.size() && text_[at_] != '\n') ++at_;
    return {from, at_};
  }
  int line() const { return line_; }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
};

/// An ordinary number, as far as the library's float reaches.
bool is_number(std::string_view word) {
  if (!word.empty() && word.front() == '+') word.remove_prefix(1);
  double value = 0;
  const auto [end, code] = std::from_chars(word.data(), word.data() + word.size(), value);
  return code == std::errc() && end == word.data() + word.size() && std::abs(value) < 1e30;
}

void want_numbers(Words& words, int count, const char* of) {
  for (int i = 0; i < count; ++i) {
    const std::string_view word = words.next();
    if (word.empty()) refuse("the file is cut off", fmt::format("it ends inside {}", of));
    if (!is_number(word))
      refuse(fmt::format("line {}: \"{}\" is not a number", words.line(), clipped(word, 20)),
             fmt::format("{} takes ordinary numbers", of));
  }
}

void want_word(Words& words, std::string_view wanted) {
  const std::string_view word = words.next();
  if (word == wanted) return;
  if (word.empty()) refuse("the file is cut off", fmt::format("it ends where \"{}\" should stand", wanted));
  refuse(fmt::format("line {}: \"{}\" stands where \"{}\" should", words.line(), clipped(word, 20), wanted),
         "this is not STL text");
}

/// STL as text, in small letters and without names of solids. Every facet has three corners, and the last solid is closed.
std::string checked_stl_text(std::string text) {
  for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  std::vector<std::pair<std::size_t, std::size_t>> names;
  Words words(text);
  bool closed = false;
  std::size_t count = 0;
  for (std::string_view word = words.next(); !word.empty(); word = words.next()) {
    if (word == "solid" || word == "endsolid") {
      closed = word == "endsolid";
      names.push_back(words.rest_of_line());
      continue;
    }
    if (word != "facet" || closed)
      refuse(fmt::format("line {}: \"{}\" stands where \"facet\" should", words.line(), clipped(word, 20)),
             "this is not STL text");
    want_word(words, "normal");
    want_numbers(words, 3, "a normal");
    want_word(words, "outer");
    want_word(words, "loop");
    for (int corner = 0; corner < 3; ++corner) {
      want_word(words, "vertex");
      want_numbers(words, 3, "a corner");
    }
    want_word(words, "endloop");
    want_word(words, "endfacet");
    if (++count > most_mesh_triangles) refuse("there are too many triangles in it", most_words, "export it coarser");
  }
  if (!closed) refuse("the file is cut off", "STL text ends with \"endsolid\"");
  if (count == 0) refuse("there are no triangles in it", "a mirror needs a surface");
  for (const auto& [from, to] : names)
    std::fill(text.begin() + static_cast<std::ptrdiff_t>(from), text.begin() + static_cast<std::ptrdiff_t>(to), ' ');
  return text;
}

std::string checked_stl(std::string bytes) {
  std::uint32_t count = 0;
  if (bytes.size() >= stl_head) std::memcpy(&count, bytes.data() + stl_head - sizeof(count), sizeof(count));  // little-endian
  const std::size_t wanted = stl_head + stl_triangle * std::size_t{count};
  const std::size_t text_from = std::min(bytes.find_first_not_of(" \t\r\n"), bytes.size());
  const bool like_text = bytes.compare(text_from, 5, "solid") == 0 || bytes.compare(text_from, 5, "SOLID") == 0;
  if (like_text && (bytes.size() < stl_head || bytes.size() != wanted)) return checked_stl_text(std::move(bytes));
  if (bytes.size() < stl_head)
    refuse("the file is too short to be STL", "binary STL begins with 84 bytes, STL text with \"solid\"");
  if (count > most_mesh_triangles) {
    refuse(fmt::format("it says that it holds {} triangles", count), most_words,
           "export it coarser, if it is an STL file at all");
  }
  if (bytes.size() < wanted) {
    refuse("the file is cut off",
           fmt::format("its head promises {} triangles, {} bytes; there are {}", count, wanted, bytes.size()));
  }
  if (count == 0) refuse("there are no triangles in it", "a mirror needs a surface");
  bytes.resize(wanted);
  return bytes;
}

/// The corners and faces of OBJ text, and nothing else of it.
class ObjSieve {
 public:
  void line(std::string_view text, int number) {
    Words words(text);
    const std::string_view kind = words.next();
    if (kind == "v") corner(words, number);
    if (kind == "f") face(words, number);
  }
  std::string finish() {
    if (corners_ == 0) refuse("there are no corners in it", "OBJ text has lines that begin with v");
    if (triangles_ == 0) refuse("there are no faces in it", "OBJ text has lines that begin with f: a mirror needs a surface");
    if (largest_ > corners_) {
      refuse(fmt::format("line {}: a face uses corner {}", largest_line_, largest_),
             fmt::format("there are only {} corners; the file may be cut off", corners_));
    }
    return std::move(out_);
  }

 private:
  void corner(Words& words, int number) {
    out_ += 'v';
    for (int i = 0; i < 3; ++i) {
      const std::string_view word = words.next();
      if (word.empty()) refuse(fmt::format("line {}: a corner has fewer than 3 numbers", number), "the file may be cut off");
      if (!is_number(word))
        refuse(fmt::format("line {}: \"{}\" is not a number", number, clipped(word, 20)), "a corner takes ordinary numbers");
      out_.append(" ").append(word);
    }
    out_ += '\n';
    ++corners_;
  }

  void face(Words& words, int number) {
    out_ += 'f';
    std::size_t count = 0;
    for (std::string_view word = words.next(); !word.empty(); word = words.next(), ++count) {
      long long index = 0;
      const std::string_view place = word.substr(0, word.find('/'));
      const auto [end, code] = std::from_chars(place.data(), place.data() + place.size(), index);
      if (code != std::errc() || end != place.data() + place.size() || index == 0)
        refuse(fmt::format("line {}: \"{}\" is not the number of a corner", number, clipped(word, 20)),
               "corners are counted from 1");
      if (index < 0) index += static_cast<long long>(corners_) + 1;  // counted back from the last one
      if (index < 1) refuse(fmt::format("line {}: a face counts back to before the first corner", number), "");
      if (static_cast<std::size_t>(index) > largest_) largest_ = static_cast<std::size_t>(index), largest_line_ = number;
      out_ += fmt::format(" {}", index);
    }
    if (count < 3)
      refuse(fmt::format("line {}: a face has {} corners", number, count), "a face has 3 or more; the file may be cut off");
    out_ += '\n';
    triangles_ += count - 2;
    if (triangles_ > most_mesh_triangles) refuse("there are too many triangles in it", most_words, "export it coarser");
  }

  std::string out_;
  std::size_t corners_ = 0, triangles_ = 0, largest_ = 0;
  int largest_line_ = 0;
};

std::string checked_obj(const std::string& bytes) {
  ObjSieve sieve;
  std::string joined;  // a line that runs on after a backslash
  int number = 0, first = 0;
  for (std::size_t from = 0; from < bytes.size();) {
    const std::size_t end = std::min(bytes.find('\n', from), bytes.size());
    std::string_view line = std::string_view(bytes).substr(from, end - from);
    from = end + 1;
    ++number;
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    const bool runs_on = !line.empty() && line.back() == '\\';
    if (!runs_on && joined.empty()) {
      sieve.line(line, number);
      continue;
    }
    if (joined.empty()) first = number;
    joined.append(line.substr(0, line.size() - (runs_on ? 1 : 0))).append(" ");
    if (runs_on) continue;
    sieve.line(joined, first);
    joined.clear();
  }
  return sieve.finish();
}

}  // namespace

MeshFormat mesh_format(std::string_view file_name) {
  std::string ending(file_name.substr(std::min(file_name.rfind('.'), file_name.size())));
  for (char& c : ending) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (ending == ".stl") return MeshFormat::stl;
  if (ending == ".obj") return MeshFormat::obj;
  if (ending == ".ply") return MeshFormat::ply;
  throw InputError(fmt::format("{} is not a mesh file by its name", clipped(file_name, 60)),
                   "meshes are read from .stl, .obj and .ply files", "export the mesh as STL, OBJ or PLY");
}

std::string checked_mesh_text(std::string bytes, MeshFormat format) {
  if (bytes.find_first_not_of(" \t\r\n") == std::string::npos) refuse("the file is empty", "");
  if (format == MeshFormat::obj) return checked_obj(bytes);
  if (format == MeshFormat::stl) return checked_stl(std::move(bytes));
  check_ply(bytes);
  return bytes;
}

}  // namespace dishwright
