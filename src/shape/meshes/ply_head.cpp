// SPDX-License-Identifier: MIT
#include "shape/meshes/ply_head.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "base/text.h"
#include "shape/meshes/polygons.h"

namespace dishwright {

namespace {

constexpr std::size_t longest = 100'000;  // bytes of a head

PlyNumber number_type(std::string_view word) {
  struct Name {
    std::string_view name;
    PlyNumber type;
  };
  static constexpr Name names[] = {
      {"char", PlyNumber::int8},       {"int8", PlyNumber::int8},       {"uchar", PlyNumber::uint8},
      {"uint8", PlyNumber::uint8},     {"short", PlyNumber::int16},     {"int16", PlyNumber::int16},
      {"ushort", PlyNumber::uint16},   {"uint16", PlyNumber::uint16},   {"int", PlyNumber::int32},
      {"int32", PlyNumber::int32},     {"uint", PlyNumber::uint32},     {"uint32", PlyNumber::uint32},
      {"float", PlyNumber::float32},   {"float32", PlyNumber::float32}, {"double", PlyNumber::float64},
      {"float64", PlyNumber::float64},
  };
  for (const Name& name : names) {
    if (name.name == word) return name.type;
  }
  return PlyNumber::none;
}

class HeadReader {
 public:
  explicit HeadReader(std::string_view bytes) : lines_(bytes.substr(0, longest)) {}

  PlyHead read() {
    bool first = true, named = false;
    while (lines_.next()) {
      const std::string_view word = lines_.word();
      if (first && (word != "ply" || lines_.line() != 1))
        throw BrokenFile(1, "this is not a PLY file", "PLY begins with a line \"ply\"");
      if (!first && word == "ply") unknown(word);
      if (word == "comment" || word == "obj_info" || first) {
        first = false;
        continue;
      }
      if (word == "end_header") {
        if (!named) fault("its head names no format", formats);
        head_.size = lines_.position(), head_.lines = lines_.line();
        return std::move(head_);
      }
      if (word == "format") {
        if (named) fault("its head names the format twice", "");
        named = true;
        read_format();
      } else if (word == "element") {
        read_element();
      } else if (word == "property") {
        read_property();
      } else {
        unknown(word);
      }
    }
    if (first) throw BrokenFile(1, "this is not a PLY file", "PLY begins with a line \"ply\"");
    throw BrokenFile(0, "the file is cut off", "the head of a PLY file ends with \"end_header\"");
  }

 private:
  static constexpr const char* formats = "PLY is ascii, binary_little_endian or binary_big_endian";

  [[noreturn]] void fault(const std::string& what, std::string why) const {
    throw BrokenFile(lines_.line(), what, std::move(why));
  }
  [[noreturn]] void unknown(std::string_view word) const {
    fault(fmt::format("its head has a line \"{}\"", clipped(word, 30)),
          "a head has lines that begin with format, element, property, comment, obj_info and end_header");
  }

  void read_format() {
    const std::string_view body = lines_.word(), version = lines_.word();
    if (body == "binary_little_endian") {
      head_.body = PlyHead::Body::little;
    } else if (body == "binary_big_endian") {
      head_.body = PlyHead::Body::big;
    } else if (body != "ascii") {
      fault(fmt::format("its head names the format \"{}\"", clipped(body, 30)), formats);
    }
    if (version != "1.0") fault(fmt::format("its head names the version \"{}\"", clipped(version, 30)), "PLY is of version 1.0");
  }

  void read_element() {
    PlyElement element;
    element.name = lines_.word();
    element.line = lines_.line();
    const std::string_view count = lines_.word();
    const auto [end, code] = std::from_chars(count.data(), count.data() + count.size(), element.count);
    if (element.name.empty() || count.empty() || code != std::errc() || end != count.data() + count.size())
      fault("its head has an element without a count", "it is written like: element vertex 8");
    if (head_.find(element.name) != nullptr) fault(fmt::format("its head names {} twice", clipped(element.name, 30)), "");
    head_.elements.push_back(std::move(element));
  }

  void read_property() {
    PlyProperty property;
    std::string_view type = lines_.word();
    if (type == "list") {
      const std::string_view count = lines_.word();
      type = lines_.word();
      property.count = number_type(count);
      if (property.count == PlyNumber::none || property.count == PlyNumber::float32 || property.count == PlyNumber::float64)
        fault(fmt::format("its head counts a list in \"{}\"", clipped(count, 20)), "a list is counted in whole numbers");
    }
    property.name = lines_.word();
    property.type = number_type(type);
    if (property.type == PlyNumber::none || property.name.empty() || head_.elements.empty())
      fault("its head has a property that is not understood", fmt::format("its type is \"{}\"", clipped(type, 20)));
    PlyElement& element = head_.elements.back();
    if (element.find(property.name, true) >= 0 || element.find(property.name, false) >= 0)
      fault(fmt::format("its head names {} of {} twice", clipped(property.name, 20), clipped(element.name, 20)), "");
    element.properties.push_back(std::move(property));
  }

  TextLines lines_;
  PlyHead head_;
};

}  // namespace

int PlyElement::find(std::string_view wanted, bool list) const {
  for (std::size_t i = 0; i < properties.size(); ++i) {
    if (properties[i].name == wanted && properties[i].is_list() == list) return static_cast<int>(i);
  }
  return -1;
}

const PlyElement* PlyHead::find(std::string_view name) const {
  const auto found = std::find_if(elements.begin(), elements.end(), [&](const PlyElement& e) { return e.name == name; });
  return found == elements.end() ? nullptr : &*found;
}

PlyHead read_ply_head(std::string_view bytes) { return HeadReader(bytes).read(); }

}  // namespace dishwright
