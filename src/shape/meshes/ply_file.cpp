// SPDX-License-Identifier: MIT
// PLY: text, or binary of either order.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstring>

#include "base/text.h"
#include "shape/meshes/ply_head.h"
#include "shape/meshes/polygons.h"

namespace dishwright {

namespace {

constexpr double longest_list = 1e6;

std::size_t size_of(PlyNumber type) {
  switch (type) {
    case PlyNumber::int8:
    case PlyNumber::uint8: return 1;
    case PlyNumber::int16:
    case PlyNumber::uint16: return 2;
    case PlyNumber::float64: return 8;
    default: return 4;
  }
}

/// The corners of a surface, or of a cloud.
const PlyElement& corners_of(const PlyHead& head, Wanted wanted) {
  const PlyElement* corners = head.find("vertex");
  const bool placed =
      corners != nullptr && corners->find("x", false) >= 0 && corners->find("y", false) >= 0 && corners->find("z", false) >= 0;
  if (!placed) throw BrokenFile(0, "its head promises no corners", "there is no element vertex with x, y and z");
  if (corners->count > most_mesh_corners) {
    throw BrokenFile(corners->line, fmt::format("it says that it holds {} corners", corners->count),
                     wanted == Wanted::surface ? most_words : fmt::format("{} are read at most", most_mesh_corners),
                     "export it coarser");
  }
  return *corners;
}

/// Which property lists the corners of a face.
int corner_list(const PlyHead& head) {
  const PlyElement* faces = head.find("face");
  const int indices = faces == nullptr ? -1 : faces->find("vertex_indices", true);
  const int index = faces == nullptr ? -1 : faces->find("vertex_index", true);
  if (faces == nullptr || faces->count == 0 || (indices < 0 && index < 0))
    throw BrokenFile(0, "there are no faces in it",
                     "there is no element face with a list vertex_indices: a cloud of points is not a surface");
  if (indices >= 0 && index >= 0) throw BrokenFile(faces->line, "its faces list their corners twice", "");
  if (const PlyElement* strips = head.find("tristrips"); strips != nullptr && strips->count > 0)
    throw BrokenFile(strips->line, "a part of its triangles stands in strips", "only faces are read",
                     "export the surface as triangles");
  if (faces->count > most_mesh_triangles) {
    throw BrokenFile(faces->line, fmt::format("it says that it holds {} faces", faces->count), most_words, "export it coarser");
  }
  return std::max(indices, index);
}

/// Numbers of the body, one after another. In a text each element has a line of its own.
class Body {
 public:
  Body(std::string_view bytes, const PlyHead& head)
      : bytes_(bytes), at_(head.size), kind_(head.body), lines_(bytes.substr(head.size), head.lines) {}

  bool text() const { return kind_ == PlyHead::Body::text; }
  /// Line of the element; 0 in a binary file.
  int line() const { return text() ? lines_.line() : 0; }

  /// `number` of them are behind.
  void begin_element(const PlyElement& element, std::uint64_t number) {
    element_ = &element, number_ = number;
    if (text() && !lines_.next()) cut_off(0);
  }
  void end_element() {
    if (!text()) return;
    const std::string_view more = lines_.word();
    if (!more.empty())
      throw BrokenFile(line(), fmt::format("\"{}\" stands behind the last number", clipped(more, 20)),
                       "there is more in this line than the head promises");
  }
  /// NaN and infinity are passed on.
  double next(PlyNumber type) { return text() ? next_word() : next_raw(type); }
  void end() {
    if (text() ? !lines_.next() : only_padding()) return;
    throw BrokenFile(line(), "there is more in the file than its head promises",
                     "the number of corners or faces in its head may be wrong");
  }

 private:
  [[noreturn]] void cut_off(int line) const {
    const std::string name = element_->name == "vertex" ? "corner" : clipped(element_->name, 20);
    const std::string promised = fmt::format("{} {}{}", element_->count, name, element_->count == 1 ? "" : "s");
    throw BrokenFile(line, "the file is cut off", fmt::format("its head promises {}; it ends after {}", promised, number_));
  }

  bool only_padding() const {
    constexpr std::size_t most = 16;  // bytes
    return bytes_.size() - at_ <= most &&
           bytes_.find_first_not_of(std::string_view("\0 \t\r\n", 5), at_) == std::string_view::npos;
  }

  double next_raw(PlyNumber type) {
    const std::size_t size = size_of(type);
    if (bytes_.size() - at_ < size) cut_off(0);
    std::array<char, 8> part{};
    std::memcpy(part.data(), bytes_.data() + at_, size);
    at_ += size;
    if ((kind_ == PlyHead::Body::big) != (std::endian::native == std::endian::big))
      std::reverse(part.begin(), part.begin() + static_cast<std::ptrdiff_t>(size));
    const auto as = [&part](auto number) {
      std::memcpy(&number, part.data(), sizeof(number));
      return static_cast<double>(number);
    };
    switch (type) {
      case PlyNumber::int8: return as(std::int8_t{});
      case PlyNumber::uint8: return as(std::uint8_t{});
      case PlyNumber::int16: return as(std::int16_t{});
      case PlyNumber::uint16: return as(std::uint16_t{});
      case PlyNumber::int32: return as(std::int32_t{});
      case PlyNumber::uint32: return as(std::uint32_t{});
      case PlyNumber::float32: return as(float{});
      default: return as(double{});
    }
  }

  double next_word() {
    const std::string_view word = lines_.word();
    if (word.empty()) {
      if (lines_.at_end()) cut_off(line());
      throw BrokenFile(line(), "this line has too few numbers", "there are fewer than the head promises");
    }
    const std::optional<double> value = number_of(word);
    if (!value)
      throw BrokenFile(line(), fmt::format("\"{}\" is not a number", clipped(word, 20)), "the body of PLY text is all numbers");
    return *value;
  }

  std::string_view bytes_;
  std::size_t at_;
  PlyHead::Body kind_;
  TextLines lines_;
  const PlyElement* element_ = nullptr;  // that is being read
  std::uint64_t number_ = 0;
};

class PlyReader {
 public:
  PlyReader(std::string_view bytes, Wanted wanted)
      : head_(read_ply_head(bytes)), wanted_(wanted), corners_(corners_of(head_, wanted)), body_(bytes, head_) {
    if (wanted == Wanted::surface) corner_list_ = corner_list(head_);
    const std::size_t most = (bytes.size() - head_.size) / 3;  // three numbers have a byte each at least
    out_.corners.reserve(std::min<std::size_t>(corners_.count, most));
    out_.lines = body_.text();
  }

  Polygons read() {
    for (const PlyElement& element : head_.elements) {
      if (element.properties.empty() && element.count > 0)
        throw BrokenFile(element.line, "its head has an element without properties", "");
      for (std::uint64_t i = 0; i < element.count; ++i) {
        body_.begin_element(element, i);
        if (&element == &corners_) {
          read_corner();
        } else if (corner_list_ >= 0 && element.name == "face") {
          read_face(element, i + 1);
        } else {
          for (const PlyProperty& property : element.properties) pass(property);
        }
        body_.end_element();
      }
      if (&element == &corners_ && wanted_ == Wanted::points) return std::move(out_);
    }
    body_.end();
    return std::move(out_);
  }

 private:
  void read_corner() {
    Vector3 place = Vector3::Zero();
    for (const PlyProperty& property : corners_.properties) {
      const int axis = property.name == "x" ? 0 : property.name == "y" ? 1 : property.name == "z" ? 2 : -1;
      if (axis < 0 || property.is_list()) {
        pass(property);
        continue;
      }
      place[axis] = body_.next(property.type);
      if (wanted_ == Wanted::surface && body_.line() > 0 && !(std::abs(place[axis]) < farthest_number))
        throw BrokenFile(body_.line(), fmt::format("{} is {}", property.name, place[axis]), "a corner takes ordinary numbers");
    }
    out_.corners.push_back(place);
  }

  double list_length(const PlyProperty& property) {
    const double length = body_.next(property.count);
    if (length >= 0 && length <= longest_list && length == std::floor(length)) return length;
    throw BrokenFile(body_.line(), fmt::format("a list of {} numbers stands in it", length), "the file may be broken");
  }

  void pass(const PlyProperty& property) {
    const double length = property.is_list() ? list_length(property) : 1;
    for (int i = 0; i < static_cast<int>(length); ++i) body_.next(property.type);
  }

  void read_face(const PlyElement& element, std::uint64_t number) {
    const auto all = static_cast<double>(corners_.count);
    for (std::size_t k = 0; k < element.properties.size(); ++k) {
      const PlyProperty& property = element.properties[k];
      if (static_cast<int>(k) != corner_list_) {
        pass(property);
        continue;
      }
      const double length = list_length(property);
      check_face_size(length, body_.line(), number);
      for (int i = 0; i < static_cast<int>(length); ++i) {
        const double index = body_.next(property.type);
        if (!(index >= 0 && index < all && index == std::floor(index))) {
          throw BrokenFile(body_.line(),
                           fmt::format("{} uses corner {}", body_.text() ? "a face" : fmt::format("face {}", number), index),
                           fmt::format("there are {} corners, counted from 0", all));
        }
        out_.indices.push_back(static_cast<std::uint32_t>(index));
      }
      out_.faces.push_back({static_cast<std::uint32_t>(length),
                            static_cast<std::uint32_t>(body_.text() ? body_.line() : static_cast<int>(number))});
      triangles_ += static_cast<std::size_t>(length) - 2;
      if (triangles_ > most_mesh_triangles)
        throw BrokenFile(0, "there are too many triangles in it", most_words, "export it coarser");
    }
  }

  PlyHead head_;
  Wanted wanted_;
  const PlyElement& corners_;
  Body body_;
  Polygons out_;
  int corner_list_ = -1;
  std::size_t triangles_ = 0;
};

}  // namespace

Polygons read_ply(std::string_view bytes, Wanted wanted) { return PlyReader(bytes, wanted).read(); }

}  // namespace dishwright
