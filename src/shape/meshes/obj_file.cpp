// SPDX-License-Identifier: MIT
// OBJ: lines of corners (v) and faces (f). Of the other lines nothing is taken, so no other file is ever opened.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "base/text.h"
#include "shape/meshes/polygons.h"

namespace dishwright {

namespace {

/// Words of the format that say nothing about where the flat faces are.
bool is_passed_over(std::string_view word) {
  static constexpr std::string_view known[] = {
      "vt",     "vn",   "vp",    "l",        "p",        "g",          "s",         "o",    "mg",    "usemtl", "mtllib", "usemap",
      "maplib", "lod",  "bevel", "c_interp", "d_interp", "shadow_obj", "trace_obj", "call", "csh",   "cstype", "deg",    "bmat",
      "step",   "parm", "trim",  "hole",     "scrv",     "sp",         "end",       "con",  "ctech", "stech",  "curv",   "curv2"};
  return std::find(std::begin(known), std::end(known), word) != std::end(known);
}

class ObjReader {
 public:
  explicit ObjReader(Wanted wanted) : wanted_(wanted) { out_.lines = true; }

  void line(std::string_view text, int number) {
    TextLines words(text);
    if (!words.next()) return;
    const std::string_view kind = words.word();
    if (kind.front() == '#') return;
    if (kind == "v") {
      corner(words, number);
    } else if (kind == "f") {
      if (wanted_ == Wanted::surface) face(words, number);
    } else if (kind == "surf" && wanted_ == Wanted::surface) {
      throw BrokenFile(number, "a curved patch stands here", "only corners and flat faces are read",
                       "export the surface as triangles");
    } else if (!is_passed_over(kind) && kind != "surf") {
      throw BrokenFile(number, fmt::format("\"{}\" is not a word of OBJ text", clipped(kind, 20)),
                       "corners stand in lines that begin with v, faces in lines that begin with f");
    }
  }

  Polygons finish() {
    if (wanted_ == Wanted::points) return std::move(out_);
    if (out_.corners.empty()) throw BrokenFile(0, "there are no corners in it", "OBJ text has lines that begin with v");
    if (out_.faces.empty())
      throw BrokenFile(0, "there are no faces in it", "OBJ text has lines that begin with f: a mirror needs a surface");
    if (largest_ > out_.corners.size()) {
      throw BrokenFile(largest_line_, fmt::format("a face uses corner {}", largest_),
                       fmt::format("there are only {} corners; the file may be cut off", out_.corners.size()));
    }
    return std::move(out_);
  }

 private:
  void corner(TextLines& words, int number) {
    std::array<double, 3> at{};
    for (double& value : at) {
      const std::string_view word = words.word();
      if (word.empty()) throw BrokenFile(number, "a corner has fewer than 3 numbers", "the file may be cut off");
      value = corner_number(word, number, wanted_, "a corner");
    }
    // A weight or a colour may follow, a remark too; anything else would be a line that lost its end.
    for (std::string_view word = words.word(); !word.empty() && word.front() != '#'; word = words.word()) {
      if (!number_of(word))
        throw BrokenFile(number, fmt::format("\"{}\" stands behind a corner", clipped(word, 20)), "only numbers follow there");
    }
    if (out_.corners.size() >= most_mesh_corners)
      throw BrokenFile(0, "there are too many corners in it", most_words, "export it coarser");
    out_.corners.emplace_back(at[0], at[1], at[2]);
  }

  void face(TextLines& words, int number) {
    std::size_t count = 0;
    for (std::string_view word = words.word(); !word.empty() && word.front() != '#'; word = words.word(), ++count)
      out_.indices.push_back(static_cast<std::uint32_t>(corner_of(word, number) - 1));
    check_face_size(static_cast<double>(count), number, 0);
    out_.faces.push_back({static_cast<std::uint32_t>(count), static_cast<std::uint32_t>(number)});
    triangles_ += count - 2;
    if (triangles_ > most_mesh_triangles)
      throw BrokenFile(0, "there are too many triangles in it", most_words, "export it coarser");
  }

  /// The number of a corner, from 1, of a word such as 7, 7/1/3, 7//3 or -1.
  std::size_t corner_of(std::string_view word, int number) {
    long long index = 0;
    const std::string_view place = word.substr(0, word.find('/'));
    const auto [end, code] = std::from_chars(place.data(), place.data() + place.size(), index);
    const bool rest = word.find_first_not_of("0123456789/-", place.size()) == std::string_view::npos;
    if (code != std::errc() || end != place.data() + place.size() || index == 0 || !rest) {
      throw BrokenFile(number, fmt::format("\"{}\" is not the number of a corner", clipped(word, 20)),
                       "corners are counted from 1");
    }
    if (index < 0) index += static_cast<long long>(out_.corners.size()) + 1;  // counted back from the last one
    if (index < 1) throw BrokenFile(number, "a face counts back to before the first corner", "");
    const auto found = static_cast<std::size_t>(index);
    if (found > largest_) largest_ = found, largest_line_ = number;
    return found;
  }

  Wanted wanted_;
  Polygons out_;
  std::size_t triangles_ = 0, largest_ = 0;
  int largest_line_ = 0;
};

}  // namespace

Polygons read_obj(std::string_view bytes, Wanted wanted) {
  ObjReader reader(wanted);
  std::string joined;  // a line that runs on after a backslash
  bool runs_on = false;
  int first = 0;
  TextLines lines(bytes);
  while (lines.next()) {
    std::string_view line = lines.rest();
    if (line.back() == '\r') line.remove_suffix(1);
    const bool again = !line.empty() && line.back() == '\\';
    if (!again && !runs_on) {
      reader.line(line, lines.line());
      continue;
    }
    if (!runs_on) first = lines.line();
    joined.append(line.substr(0, line.size() - (again ? 1 : 0))).append(" ");
    runs_on = again;
    if (again) continue;
    reader.line(joined, first);
    joined.clear();
  }
  if (runs_on) throw BrokenFile(first, "the file is cut off", "it ends in a line that runs on after a backslash");
  return reader.finish();
}

}  // namespace dishwright
