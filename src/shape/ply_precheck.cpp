// SPDX-License-Identifier: MIT
#include "shape/ply_precheck.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <sstream>
#include <string>
#include <vector>

#include "base/error.h"
#include "base/text.h"
#include "shape/mesh_precheck.h"

namespace dishwright {

namespace {

[[noreturn]] void refuse(std::string what, std::string why) {
  throw InputError(std::move(what), std::move(why), "export the mesh again");
}

enum class Number { none, int8, uint8, int16, uint16, int32, uint32, float32, float64 };

Number number_type(std::string_view word) {
  struct Name {
    std::string_view name;
    Number type;
  };
  static constexpr Name names[] = {
      {"char", Number::int8},     {"int8", Number::int8},       {"uchar", Number::uint8},    {"uint8", Number::uint8},
      {"short", Number::int16},   {"int16", Number::int16},     {"ushort", Number::uint16},  {"uint16", Number::uint16},
      {"int", Number::int32},     {"int32", Number::int32},     {"uint", Number::uint32},    {"uint32", Number::uint32},
      {"float", Number::float32}, {"float32", Number::float32}, {"double", Number::float64}, {"float64", Number::float64},
  };
  for (const Name& name : names) {
    if (name.name == word) return name.type;
  }
  return Number::none;
}

struct Property {
  std::string name;
  Number count = Number::none;  ///< type of a list's length; none: a single number
  Number type = Number::none;
};

struct Element {
  std::string name;
  std::uint64_t count = 0;
  std::vector<Property> properties;
  bool has(std::string_view wanted, bool list) const {
    return std::any_of(properties.begin(), properties.end(),
                       [&](const Property& p) { return p.name == wanted && (p.count != Number::none) == list; });
  }
};

struct Head {
  enum class Body { text, little, big } body = Body::text;
  std::vector<Element> elements;
  std::size_t size = 0;  ///< bytes
  std::uint64_t corners() const {
    for (const Element& e : elements) {
      if (e.name == "vertex") return e.count;
    }
    return 0;
  }
};

void read_format(std::istringstream& words, Head& head) {
  std::string body;
  words >> body;
  if (body == "binary_little_endian") {
    head.body = Head::Body::little;
  } else if (body == "binary_big_endian") {
    head.body = Head::Body::big;
  } else if (body != "ascii") {
    refuse(fmt::format("its head names the format \"{}\"", clipped(body, 30)),
           "PLY is ascii, binary_little_endian or binary_big_endian");
  }
}

void read_property(std::istringstream& words, Head& head) {
  Property property;
  std::string type, count;
  words >> type;
  if (type == "list") {
    words >> count >> type;
    property.count = number_type(count);
    if (property.count == Number::none || property.count == Number::float32 || property.count == Number::float64)
      refuse(fmt::format("its head counts a list in \"{}\"", clipped(count, 20)), "a list is counted in whole numbers");
  }
  words >> property.name;
  property.type = number_type(type);
  if (property.type == Number::none || property.name.empty() || head.elements.empty())
    refuse("its head has a property that is not understood", fmt::format("its type is \"{}\"", clipped(type, 20)));
  head.elements.back().properties.push_back(property);
}

Head read_head(std::string_view bytes) {
  Head head;
  bool first = true;
  constexpr std::size_t longest = 100'000;  // bytes of a head
  for (std::size_t from = 0; from < std::min(bytes.size(), longest);) {
    const std::size_t end = std::min(bytes.find('\n', from), bytes.size());
    std::istringstream words{std::string(bytes.substr(from, std::min<std::size_t>(end - from, 1000)))};
    from = end + 1;
    std::string word;
    words >> word;
    if (first && word != "ply") refuse("this is not a PLY file", "PLY begins with a line \"ply\"");
    first = false;
    if (word == "format") read_format(words, head);
    if (word == "element") {
      Element element;
      words >> element.name >> element.count;
      if (words.fail()) refuse("its head has an element without a count", "");
      head.elements.push_back(element);
    }
    if (word == "property") read_property(words, head);
    if (word != "end_header") continue;
    head.size = std::min(from, bytes.size());
    return head;
  }
  refuse("the file is cut off", "the head of a PLY file ends with \"end_header\"");
}

void check_head(const Head& head) {
  const auto find = [&](std::string_view name) {
    const auto found = std::find_if(head.elements.begin(), head.elements.end(), [&](const Element& e) { return e.name == name; });
    return found == head.elements.end() ? nullptr : &*found;
  };
  const Element *corners = find("vertex"), *faces = find("face");
  if (corners == nullptr || !corners->has("x", false) || !corners->has("y", false) || !corners->has("z", false))
    refuse("its head promises no corners", "there is no element vertex with x, y and z");
  if (faces == nullptr || faces->count == 0 || (!faces->has("vertex_indices", true) && !faces->has("vertex_index", true)))
    refuse("there are no faces in it", "there is no element face with a list vertex_indices: a cloud of points is not a surface");
  if (faces->count > most_mesh_triangles || corners->count > 3 * most_mesh_triangles) {
    throw InputError(fmt::format("it says that it holds {} faces and {} corners", faces->count, corners->count), most_words,
                     "export it coarser");
  }
}

/// Numbers of the body, one after another.
class Body {
 public:
  Body(std::string_view bytes, const Head& head) : bytes_(bytes), at_(head.size), kind_(head.body) {}

  double next(Number type) {
    if (kind_ == Head::Body::text) return next_word();
    switch (type) {
      case Number::int8: return raw<std::int8_t>();
      case Number::uint8: return raw<std::uint8_t>();
      case Number::int16: return raw<std::int16_t>();
      case Number::uint16: return raw<std::uint16_t>();
      case Number::int32: return raw<std::int32_t>();
      case Number::uint32: return raw<std::uint32_t>();
      case Number::float32: return raw<float>();
      default: return raw<double>();
    }
  }

 private:
  [[noreturn]] static void cut_off() {
    refuse("the file is cut off", "it ends before all corners and faces of its head are there");
  }

  template <class T>
  double raw() {
    if (bytes_.size() - at_ < sizeof(T)) cut_off();
    unsigned char part[sizeof(T)];
    std::memcpy(part, bytes_.data() + at_, sizeof(T));
    if (kind_ == Head::Body::big)
      std::reverse(part, part + sizeof(T));  // this machine is little-endian, as all that Embree runs on
    at_ += sizeof(T);
    T value;
    std::memcpy(&value, part, sizeof(T));
    return static_cast<double>(value);
  }

  double next_word() {
    while (at_ < bytes_.size() && static_cast<unsigned char>(bytes_[at_]) <= ' ') ++at_;
    const std::size_t from = at_;
    while (at_ < bytes_.size() && static_cast<unsigned char>(bytes_[at_]) > ' ') ++at_;
    if (from == at_) cut_off();
    const std::string_view word = bytes_.substr(from, at_ - from);
    double value = 0;
    const auto [end, code] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (code != std::errc() || end != word.data() + word.size())
      refuse(fmt::format("\"{}\" is not a number", clipped(word, 20)), "the body of PLY text is all numbers");
    return value;
  }

  std::string_view bytes_;
  std::size_t at_;
  Head::Body kind_;
};

/// One list; gives its length. Corners of faces must be there.
std::size_t check_list(Body& body, const Property& property, bool of_corners, double corners) {
  const double length = body.next(property.count);
  constexpr double longest = 1e6;
  if (!(length >= 0 && length <= longest))
    refuse(fmt::format("a list of {} numbers stands in it", length), "the file may be broken");
  for (int i = 0; i < static_cast<int>(length); ++i) {
    const double index = body.next(property.type);
    if (of_corners && !(index >= 0 && index < corners && index == std::floor(index)))
      refuse(fmt::format("a face uses corner {}", index), fmt::format("there are {} corners, counted from 0", corners));
  }
  return static_cast<std::size_t>(length);
}

}  // namespace

void check_ply(std::string_view bytes) {
  const Head head = read_head(bytes);
  check_head(head);
  const auto corners = static_cast<double>(head.corners());
  Body body(bytes, head);
  std::size_t triangles = 0;
  for (const Element& element : head.elements) {
    if (element.properties.empty() && element.count > 0) refuse("its head has an element without properties", "");
    for (std::uint64_t i = 0; i < element.count; ++i) {
      for (const Property& property : element.properties) {
        if (property.count == Number::none) {
          body.next(property.type);
          continue;
        }
        const bool of_corners = element.name == "face" && property.name.rfind("vertex_ind", 0) == 0;
        const std::size_t length = check_list(body, property, of_corners, corners);
        if (of_corners && length >= 3) triangles += length - 2;
      }
    }
    if (triangles > most_mesh_triangles) {
      throw InputError("there are too many triangles in it", most_words, "export it coarser");
    }
  }
  if (triangles == 0) refuse("none of its faces has three corners", "a mirror needs a surface");
}

}  // namespace dishwright
