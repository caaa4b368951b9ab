// SPDX-License-Identifier: MIT
// Points of PLY, OBJ and STL files. Only the points are wanted, up to millions of them, so they are read straight from the bytes.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstring>

#include "base/error.h"
#include "base/text.h"
#include "survey/read_survey.h"

namespace dishwright {

namespace {

[[noreturn]] void refuse(const std::string& file, int line, std::string what, std::string why, std::string fix) {
  throw InputError(std::vector<Problem>{
      Problem{printable(file), line, line > 0 ? 1 : 0, 1, "", std::move(what), std::move(why), std::move(fix)}});
}

/// Walks over the lines of a text and the words of a line.
class Words {
 public:
  explicit Words(std::string_view text) : text_(text) {}
  bool next_line() {
    if (at_ >= text_.size()) return false;
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    line_ = text_.substr(at_, end - at_);
    at_ = end + 1;
    ++number_;
    return true;
  }
  std::string_view word() {
    const std::size_t from = std::min(line_.find_first_not_of(" \t\r"), line_.size());
    const std::size_t end = std::min(line_.find_first_of(" \t\r", from), line_.size());
    const std::string_view found = line_.substr(from, end - from);
    line_.remove_prefix(end);
    return found;
  }
  /// NaN where the next word is not a number.
  double number() {
    std::string_view text = word();
    if (!text.empty() && text[0] == '+') text.remove_prefix(1);
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() && !text.empty() ? value : std::nan("");
  }
  int line_number() const { return number_; }
  std::size_t position() const { return at_; }

 private:
  std::string_view text_, line_;
  std::size_t at_ = 0;
  int number_ = 0;
};

struct Collected {
  std::vector<Vector3> points;
  std::size_t left_out = 0;
  void add(double x, double y, double z) {
    if (std::isfinite(x) && std::isfinite(y) && std::isfinite(z)) {
      points.emplace_back(x, y, z);
    } else {
      ++left_out;
    }
  }
};

// ---- PLY ----
struct PlyProperty {
  std::string type;
  int axis = -1;  // 0 x, 1 y, 2 z
};

struct PlyHeader {
  bool text = true, big_endian = false;
  std::size_t count = 0;
  std::vector<PlyProperty> properties;
  std::size_t body = 0;  ///< offset of the first point
  int line = 0;
};

std::size_t size_of(const std::string& type) {
  if (type == "char" || type == "uchar" || type == "int8" || type == "uint8") return 1;
  if (type == "short" || type == "ushort" || type == "int16" || type == "uint16") return 2;
  if (type == "int" || type == "uint" || type == "float" || type == "int32" || type == "uint32" || type == "float32") return 4;
  if (type == "double" || type == "float64") return 8;
  return 0;
}

PlyHeader ply_header(const std::string& content, const std::string& file) {
  PlyHeader header;
  Words words(content);
  std::string element;
  bool any = false;
  while (words.next_line()) {
    const std::string key(words.word());
    if (words.line_number() == 1 && key != "ply")
      refuse(file, 1, "this is not a PLY file", "its first line is not \"ply\"", "check the file");
    if (key == "format") {
      const std::string_view kind = words.word();
      header.text = kind == "ascii", header.big_endian = kind == "binary_big_endian";
    } else if (key == "element") {
      element = words.word();
      const double count = words.number();
      if (element == "vertex") header.count = count >= 0 && count < 1e9 ? static_cast<std::size_t>(count) : 0, any = true;
      if (element != "vertex" && !any && count > 0)
        refuse(file, words.line_number(), "the points do not come first in this PLY file", "", "save it with the vertices first");
    } else if (key == "property" && element == "vertex") {
      const std::string type(words.word()), name(words.word());
      if (size_of(type) == 0)
        refuse(file, words.line_number(), fmt::format("a point has a property of type \"{}\"", printable(type)),
               "only plain numbers are read", "save the points without it");
      header.properties.push_back({type, name == "x" ? 0 : name == "y" ? 1 : name == "z" ? 2 : -1});
    } else if (key == "end_header") {
      header.body = words.position(), header.line = words.line_number();
      break;
    }
  }
  const auto has = [&](int axis) {
    return std::any_of(header.properties.begin(), header.properties.end(),
                       [axis](const PlyProperty& p) { return p.axis == axis; });
  };
  if (header.body == 0 || !has(0) || !has(1) || !has(2))
    refuse(file, 0, "this PLY file has no points with x, y and z", "its header does not name them", "save the point cloud again");
  return header;
}

template <typename Number>
double read_as(const char* bytes, bool swap) {
  std::array<char, sizeof(Number)> copy{};
  std::memcpy(copy.data(), bytes, sizeof(Number));
  if (swap) std::reverse(copy.begin(), copy.end());
  Number value{};
  std::memcpy(&value, copy.data(), sizeof(Number));
  return static_cast<double>(value);
}

double binary_number(const std::string& type, const char* bytes, bool swap) {
  if (type == "float" || type == "float32") return read_as<float>(bytes, swap);
  if (type == "double" || type == "float64") return read_as<double>(bytes, swap);
  if (type == "int" || type == "int32") return read_as<std::int32_t>(bytes, swap);
  if (type == "uint" || type == "uint32") return read_as<std::uint32_t>(bytes, swap);
  if (type == "short" || type == "int16") return read_as<std::int16_t>(bytes, swap);
  if (type == "ushort" || type == "uint16") return read_as<std::uint16_t>(bytes, swap);
  if (type == "char" || type == "int8") return read_as<std::int8_t>(bytes, swap);
  return read_as<std::uint8_t>(bytes, swap);
}

[[noreturn]] void refuse_short(const std::string& file, std::size_t found, std::size_t wanted) {
  refuse(file, 0, fmt::format("the file ends after {} of its {} points", found, wanted), "it was cut off",
         "copy or export it again");
}

void read_ply(const std::string& content, const std::string& file, Collected& out) {
  const PlyHeader header = ply_header(content, file);
  std::array<double, 3> at{};
  if (header.text) {
    Words words(std::string_view(content).substr(header.body));
    for (std::size_t i = 0; i < header.count; ++i) {
      if (!words.next_line()) refuse_short(file, i, header.count);
      for (const PlyProperty& property : header.properties) {
        const double value = words.number();
        if (property.axis >= 0) at[static_cast<std::size_t>(property.axis)] = value;
      }
      out.add(at[0], at[1], at[2]);
    }
    return;
  }
  const bool swap = header.big_endian != (std::endian::native == std::endian::big);
  std::size_t size = 0;
  for (const PlyProperty& property : header.properties) size += size_of(property.type);
  if ((content.size() - header.body) / size < header.count)
    refuse_short(file, (content.size() - header.body) / size, header.count);
  const char* bytes = content.data() + header.body;
  for (std::size_t i = 0; i < header.count; ++i) {
    for (const PlyProperty& property : header.properties) {
      if (property.axis >= 0) at[static_cast<std::size_t>(property.axis)] = binary_number(property.type, bytes, swap);
      bytes += size_of(property.type);
    }
    out.add(at[0], at[1], at[2]);
  }
}

// ---- OBJ, STL ----
/// Lines "KEY x y z".
void read_lines(const std::string& content, std::string_view key, Collected& out) {
  Words words(content);
  while (words.next_line()) {
    if (words.word() != key) continue;
    const double x = words.number(), y = words.number(), z = words.number();
    out.add(x, y, z);
  }
}

void read_stl(const std::string& content, const std::string& file, Collected& out) {
  constexpr std::size_t head = 84, facet = 50;
  std::uint32_t count = 0;
  if (content.size() >= head) std::memcpy(&count, content.data() + head - 4, 4);
  const bool binary = content.size() >= head && content.size() == head + facet * static_cast<std::size_t>(count);
  if (!binary) {
    if (content.rfind("solid", 0) != 0)
      refuse(file, 0, "this is not an STL file, or it was cut off", "its size does not fit its number of facets",
             "export it again");
    read_lines(content, "vertex", out);
  }
  for (std::uint32_t i = 0; binary && i < count; ++i) {
    for (std::size_t corner = 0; corner < 3; ++corner) {
      const char* bytes = content.data() + head + facet * i + 12 + 12 * corner;
      const bool swap = std::endian::native == std::endian::big;
      out.add(read_as<float>(bytes, swap), read_as<float>(bytes + 4, swap), read_as<float>(bytes + 8, swap));
    }
  }
  // Facets share corners: each counts once.
  const auto before = [](const Vector3& a, const Vector3& b) {
    return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end());
  };
  std::sort(out.points.begin(), out.points.end(), before);
  out.points.erase(std::unique(out.points.begin(), out.points.end(), [](const Vector3& a, const Vector3& b) { return a == b; }),
                   out.points.end());
}

}  // namespace

std::vector<Vector3> cloud_points(const std::string& content, const std::string& ending, const std::string& file,
                                  std::size_t& left_out) {
  Collected out;
  if (ending == ".ply") read_ply(content, file, out);
  if (ending == ".obj") read_lines(content, "v", out);
  if (ending == ".stl") read_stl(content, file, out);
  left_out = out.left_out;
  if (out.points.empty()) refuse(file, 0, "the file holds no points", "", "check that it is the right file");
  return out.points;
}

}  // namespace dishwright
