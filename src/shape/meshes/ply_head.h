// SPDX-License-Identifier: MIT
// The head of a PLY file: which elements follow, how many of each, and what each is made of.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace dishwright {

enum class PlyNumber { none, int8, uint8, int16, uint16, int32, uint32, float32, float64 };

struct PlyProperty {
  std::string name;
  PlyNumber count = PlyNumber::none;  ///< type of a list's length; none: a single number
  PlyNumber type = PlyNumber::none;
  bool is_list() const { return count != PlyNumber::none; }
};

struct PlyElement {
  std::string name;
  std::uint64_t count = 0;
  std::vector<PlyProperty> properties;
  int line = 0;
  /// The number of the property of that name; -1 where there is none.
  int find(std::string_view wanted, bool list) const;
};

struct PlyHead {
  enum class Body { text, little, big } body = Body::text;
  std::vector<PlyElement> elements;
  std::size_t size = 0;  ///< bytes
  int lines = 0;
  /// Null where there is none.
  const PlyElement* find(std::string_view name) const;
};

/// Throws BrokenFile: not PLY, an unknown format or word, a property that is not understood, something named twice, no end.
PlyHead read_ply_head(std::string_view bytes);

}  // namespace dishwright
