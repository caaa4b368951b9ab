// SPDX-License-Identifier: MIT
// The one table of mirror shapes in a project file: words, keys, how each is read, and how it follows from another's width and
// focal length. A new shape comes in with a row.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "scene/scene.h"
#include "scenefile/reflector_shapes.h"

namespace dishwright {

/// What a new shape takes over from the old one.
struct MirrorPattern {
  double focal_length = 0;  ///< vertex to (paraxial) focus [m]; 0 = it has none
  double width = 0;         ///< [m]
  double length = 0;        ///< along y [m]; of a round mirror its width
};

/// Of a reflector's shape; width 0 where the shape has no width (then nothing can be made from it). A cone counts as having the
/// focal length of the paraboloid that is as wide and deep.
MirrorPattern pattern_of(const ReflectorShape& shape);

using KeyText = std::pair<std::string, std::string>;  ///< key, value as in a project file without quotes

/// How a shape is bent from another.
struct Reshape {
  bool needs_focal_length = false;  ///< cannot be made from a shape that has none
  bool circle = false;              ///< cut from a circle of radius 2 × focal length: width up to 4 × focal length
  std::string_view rule;            ///< in words
  std::vector<KeyText> (*keys)(const MirrorPattern&) = nullptr;  ///< what to write beside width
};

struct ShapeRow {
  ShapeWords words;
  std::string_view needs, is;  ///< for people: the keys it takes, and what it is
  std::string curve;           ///< keys that make the curve, "focal_length, depth": they do not go over to another shape
  std::string also;            ///< keys that it shares with other shapes: width, hole, flaws
  std::optional<ReflectorShape> (*read)(TableReader& table, const FilesBeside& files, Scene& scene);
  std::optional<Reshape> reshape;  ///< empty: it cannot be bent from or to another
};

const std::vector<ShapeRow>& all_shape_rows();
/// Null where there is no such shape.
const ShapeRow* find_shape_row(std::string_view shape);
/// Words of the shapes that have a key, in the order of the table.
std::vector<std::string> shapes_with_own_key(std::string_view key);

}  // namespace dishwright
