// SPDX-License-Identifier: MIT
// Surfaces and clouds as STL, OBJ and PLY files hold them: corners, and faces with three corners or more. Our own readers, in
// double: what a file says is what is taken, to the last face, or the file is refused.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "base/vector.h"

namespace dishwright {

enum class MeshFormat { stl, obj, ply };

/// What is wanted of a file: the surface, or the corners alone (then NaN and infinity are let through, and faces need not be
/// there).
enum class Wanted { surface, points };

constexpr std::size_t most_mesh_triangles = 5'000'000;
constexpr std::size_t most_mesh_corners = 3 * most_mesh_triangles;
constexpr std::size_t most_face_corners = 1000;
constexpr double farthest_number = 1e30;  ///< larger ones are no places, and their squares would not fit a double
constexpr const char* most_words = "a mesh has 5 million triangles at most";

struct Polygons {
  struct Face {
    std::uint32_t corners = 0;  ///< how many
    std::uint32_t place = 0;    ///< line of a text, or the number of the face in a binary file; from 1
  };
  std::vector<Vector3> corners;        ///< in the file's own unit
  std::vector<std::uint32_t> indices;  ///< of corners: those of the first face, then those of the second …
  std::vector<Face> faces;
  bool lines = false;  ///< Face::place is a line
};

/// What is wrong with a file. `line` is 0 where it is not one line; `fix` is empty where exporting it again is all that helps.
class BrokenFile : public std::runtime_error {
 public:
  BrokenFile(int at_line, const std::string& what, std::string why_text, std::string fix_text = "")
      : std::runtime_error(what), line(at_line), why(std::move(why_text)), fix(std::move(fix_text)) {}
  int line;
  std::string why, fix;
};

/// Reads a whole file. Throws BrokenFile: cut off or longer than it says, not of its format, a face with fewer than 3 or more
/// than most_face_corners corners or with a corner that is not there, too many triangles.
Polygons read_polygons(std::string_view bytes, MeshFormat format, Wanted wanted);

// ---- Parts ----
Polygons read_stl(std::string_view bytes, Wanted wanted);
Polygons read_obj(std::string_view bytes, Wanted wanted);
Polygons read_ply(std::string_view bytes, Wanted wanted);

/// The number that a word is, NaN and infinity included; nothing for other words and for numbers that no double holds.
std::optional<double> number_of(std::string_view word);
/// The number that a word is, as a part of a corner. Throws BrokenFile.
double corner_number(std::string_view word, int line, Wanted wanted, const char* of);
/// Throws BrokenFile where a face has no such count of corners.
void check_face_size(double count, int line, std::size_t face);

/// Walks over the lines of a text that hold something, and over the words of each.
class TextLines {
 public:
  explicit TextLines(std::string_view text, int lines_before = 0) : text_(text), line_(lines_before) {}
  /// Goes to the next line that is not blank. False at the end.
  bool next();
  /// The next word of this line; empty at its end.
  std::string_view word();
  int line() const { return line_; }
  /// Offset of the first byte behind this line.
  std::size_t position() const { return at_; }
  std::string_view rest() const { return rest_; }
  bool at_end() const { return at_ >= text_.size(); }

 private:
  std::string_view text_, rest_;
  std::size_t at_ = 0;
  int line_;
};

}  // namespace dishwright
