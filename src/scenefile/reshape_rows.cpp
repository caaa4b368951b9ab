// SPDX-License-Identifier: MIT
#include "scenefile/reshape_rows.h"

#include <fmt/format.h>

#include <algorithm>

namespace dishwright {

namespace {

/// Every digit, so that a length comes back as it was.
std::string metres(double length) { return fmt::format("{:.17g} m", length); }

std::string parabola_depth(const Pattern& p) { return metres(p.width * p.width / (16 * p.focal_length)); }

std::vector<ReshapeRow> make_rows() {
  using Keys = std::vector<KeyText>;
  return {
      {"paraboloid", "focal_length, depth", true, false, "focal length kept",
       [](const Pattern& p) {
         return Keys{{"focal_length", metres(p.focal_length)}};
       }},
      {"sphere", "radius", true, true, "radius = 2 × focal length",
       [](const Pattern& p) {
         return Keys{{"radius", metres(2 * p.focal_length)}};
       }},
      {"trough", "focal_length, depth, length", true, false, "focal length kept; as long as wide (a trough keeps its length)",
       [](const Pattern& p) {
         return Keys{{"focal_length", metres(p.focal_length)}, {"length", metres(p.length)}};
       }},
      {"arc trough", "radius, length", true, true, "radius = 2 × focal length; as long as wide (a trough keeps its length)",
       [](const Pattern& p) {
         return Keys{{"radius", metres(2 * p.focal_length)}, {"length", metres(p.length)}};
       }},
      {"flat", "length", false, false, "as long as wide (a trough keeps its length)",
       [](const Pattern& p) {
         return Keys{{"length", metres(p.length)}};
       }},
      {"cone", "depth", true, false, "as deep as the paraboloid of this focal length and width",
       [](const Pattern& p) {
         return Keys{{"depth", parabola_depth(p)}};
       }},
      {"catenary", "depth", true, false, "as deep as the paraboloid of this focal length and width",
       [](const Pattern& p) {
         return Keys{{"depth", parabola_depth(p)}};
       }},
      {"facets", "frame, focal_length, tile, tile_shape, gap, tilt", true, false,
       "focal length kept; square tiles 1/12 of the width without gaps on a paraboloid",
       [](const Pattern& p) {
         return Keys{{"focal_length", metres(p.focal_length)}, {"tile", metres(p.width / 12)}, {"gap", "0 m"}};
       }},
      {"petals", "focal_length, count, seams", true, false, "focal length kept; 12 petals",
       [](const Pattern& p) {
         return Keys{{"focal_length", metres(p.focal_length)}, {"count", "12"}};
       }},
  };
}

}  // namespace

Pattern pattern_of(const ReflectorShape& shape) {
  Pattern pattern;
  std::visit(
      [&](const auto& s) {
        if constexpr (requires { s.width; }) pattern.width = pattern.length = s.width;
        if constexpr (requires { s.length; }) pattern.length = s.length > 0 ? s.length : pattern.width;
        if constexpr (requires {
                        s.depth;
                        s.width;
                      })
          pattern.focal_length = s.width * s.width / (16 * s.depth);
      },
      shape);
  if (const auto focus = own_focus(shape)) pattern.focal_length = focus->z();
  return pattern;
}

const std::vector<ReshapeRow>& all_reshape_rows() {
  static const std::vector<ReshapeRow> rows = make_rows();
  return rows;
}

const ReshapeRow* find_reshape_row(std::string_view shape) {
  const auto& rows = all_reshape_rows();
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const ReshapeRow& row) { return row.shape == shape; });
  return found == rows.end() ? nullptr : &*found;
}

}  // namespace dishwright
