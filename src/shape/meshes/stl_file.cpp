// SPDX-License-Identifier: MIT
// STL: triangles one by one, each with corners of its own; binary or text.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstring>

#include "base/bits.h"
#include "base/text.h"
#include "shape/meshes/polygons.h"

namespace dishwright {

namespace {

constexpr std::size_t head_size = 84, triangle_size = 50, normal_size = 12;  // bytes of binary STL
constexpr const char* not_text = "this is not STL text";

void add_triangle(Polygons& out, std::size_t place) {
  const auto first = static_cast<std::uint32_t>(3 * out.faces.size());
  out.indices.insert(out.indices.end(), {first, first + 1, first + 2});
  out.faces.push_back({3, static_cast<std::uint32_t>(place)});
}

/// Words of a text one by one, with their line. Capitals do not count.
class Words {
 public:
  explicit Words(std::string_view text) : lines_(text) {}
  /// Empty at the end of the file.
  std::string next() {
    std::string_view word = lines_.word();
    while (word.empty() && lines_.next()) word = lines_.word();
    std::string small(word);
    for (char& c : small) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return small;
  }
  void want(std::string_view wanted) {
    const std::string word = next();
    if (word == wanted) return;
    if (word.empty()) throw BrokenFile(0, "the file is cut off", fmt::format("it ends where \"{}\" should stand", wanted));
    throw BrokenFile(line(), fmt::format("\"{}\" stands where \"{}\" should", clipped(word, 20), wanted), not_text);
  }
  double number(Wanted wanted, const char* of) {
    const std::string word = next();
    if (word.empty()) throw BrokenFile(0, "the file is cut off", fmt::format("it ends inside {}", of));
    return corner_number(word, line(), wanted, of);
  }
  void pass_line() {
    while (!lines_.word().empty()) {
    }
  }
  int line() const { return lines_.line(); }

 private:
  TextLines lines_;
};

void read_facet(Words& words, Wanted wanted, Polygons& out) {
  const int line = words.line();
  words.want("normal");
  for (int i = 0; i < 3; ++i) words.number(Wanted::points, "a normal");  // not used: many programs write it wrong
  words.want("outer");
  words.want("loop");
  for (int corner = 0; corner < 3; ++corner) {
    words.want("vertex");
    std::array<double, 3> at{};
    for (double& value : at) value = words.number(wanted, "a corner");
    out.corners.emplace_back(at[0], at[1], at[2]);
  }
  words.want("endloop");
  words.want("endfacet");
  add_triangle(out, static_cast<std::size_t>(line));
}

/// Every facet has three corners, and the last solid is closed.
Polygons read_text(std::string_view bytes, Wanted wanted) {
  Polygons out;
  out.lines = true;
  Words words(bytes);
  bool closed = true;
  for (std::string word = words.next(); !word.empty(); word = words.next()) {
    if (word == (closed ? "solid" : "endsolid")) {
      closed = !closed;
      words.pass_line();  // its name
      continue;
    }
    if (word != "facet" || closed) {
      throw BrokenFile(words.line(),
                       fmt::format("\"{}\" stands where \"{}\" should", clipped(word, 20), closed ? "solid" : "facet"), not_text);
    }
    read_facet(words, wanted, out);
    if (out.faces.size() > most_mesh_triangles)
      throw BrokenFile(0, "there are too many triangles in it", most_words, "export it coarser");
  }
  if (!closed) throw BrokenFile(0, "the file is cut off", "STL text ends with \"endsolid\"");
  return out;
}

float float_at(const char* bytes) {
  std::array<char, 4> copy{};
  std::memcpy(copy.data(), bytes, 4);
  if constexpr (std::endian::native == std::endian::big) std::reverse(copy.begin(), copy.end());
  return bits_as<float>(copy);
}

/// The number of triangles that the head promises. Throws where the file holds fewer or more.
std::size_t promised_count(std::string_view bytes) {
  if (bytes.size() < head_size) {
    throw BrokenFile(0, "the file is too short to be STL", "binary STL begins with 84 bytes, STL text with \"solid\"");
  }
  std::size_t count = 0;
  for (std::size_t i = 0; i < 4; ++i) count |= std::size_t{static_cast<unsigned char>(bytes[80 + i])} << (8 * i);
  if (count > most_mesh_triangles) {
    throw BrokenFile(0, fmt::format("it says that it holds {} triangles", count), most_words,
                     "export it coarser, if it is an STL file at all");
  }
  const std::size_t wanted = head_size + triangle_size * count;
  if (bytes.size() < wanted) {
    throw BrokenFile(0, "the file is cut off",
                     fmt::format("its head promises {} triangles, {} bytes; there are {}", count, wanted, bytes.size()));
  }
  const std::size_t more = bytes.size() - wanted;
  const bool padding =
      more < triangle_size && bytes.find_first_not_of(std::string_view("\0 \t\r\n", 5), wanted) == std::string_view::npos;
  if (more > 0 && !padding) {
    throw BrokenFile(0, fmt::format("its head promises {} triangle{}, and there is more in it", count, count == 1 ? "" : "s"),
                     fmt::format("that is {} bytes; there are {}, enough for {} triangles", wanted, bytes.size(),
                                 (bytes.size() - head_size) / triangle_size));
  }
  return count;
}

Polygons read_binary(std::string_view bytes) {
  const std::size_t count = promised_count(bytes);
  Polygons out;
  out.corners.reserve(3 * count), out.indices.reserve(3 * count), out.faces.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    const char* at = bytes.data() + head_size + triangle_size * i + normal_size;
    for (int corner = 0; corner < 3; ++corner, at += 12)
      out.corners.emplace_back(float_at(at), float_at(at + 4), float_at(at + 8));
    add_triangle(out, i + 1);
  }
  return out;
}

}  // namespace

Polygons read_stl(std::string_view bytes, Wanted wanted) {
  const std::size_t from = std::min(bytes.find_first_not_of(" \t\r\n"), bytes.size());
  const std::string_view start = bytes.substr(from, 5);
  // A binary file may begin with the same word; it is never without a zero byte, for the highest byte of the number of triangles
  // is zero.
  const bool text = (start == "solid" || start == "SOLID" || start == "Solid") && bytes.find('\0') == std::string_view::npos;
  Polygons out = text ? read_text(bytes, wanted) : read_binary(bytes);
  if (out.faces.empty()) throw BrokenFile(0, "there are no triangles in it", "a mirror needs a surface");
  return out;
}

}  // namespace dishwright
