// SPDX-License-Identifier: MIT
// The one table of how a shape follows from another's width and focal length. A new shape comes in with a row.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "scene/scene.h"

namespace dishwright {

/// What a new shape takes over from the old one.
struct Pattern {
  double focal_length = 0;  ///< vertex to (paraxial) focus [m]; 0 = it has none
  double width = 0;         ///< [m]
  double length = 0;        ///< along y [m]; of a round mirror its width
};

/// Of a reflector's shape; width 0 where the shape has no width (then nothing can be made from it). A cone counts as having the focal length of
/// the paraboloid that is as wide and deep.
Pattern pattern_of(const ReflectorShape& shape);

using KeyText = std::pair<std::string, std::string>;  ///< key, value as in a project file without quotes

struct ReshapeRow {
  std::string_view shape;
  std::string_view own_keys;  ///< keys that make the curve, "focal_length, depth": they do not go over to another shape
  bool needs_focal_length;    ///< cannot be made from a shape that has none
  bool circle;                ///< cut from a circle of radius 2 × focal length: width up to 4 × focal length
  std::string_view rule;      ///< in words
  std::vector<KeyText> (*keys)(const Pattern&);  ///< what to write beside width
};

const std::vector<ReshapeRow>& all_reshape_rows();
/// Null where a shape cannot be bent from or to another.
const ReshapeRow* find_reshape_row(std::string_view shape);

}  // namespace dishwright
