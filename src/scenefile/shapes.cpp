// SPDX-License-Identifier: MIT
#include "scenefile/shapes.h"

#include <fmt/format.h>

#include <algorithm>

#include "scenefile/keys.h"

namespace dishwright {

namespace {

// Keys that many shapes share. A skin can hang through between ribs where the mirror is a round dish.
constexpr std::string_view bent = "rim_sag_x, rim_sag_y, twist, waviness, dents, surface_rms, surface_correlation";
constexpr std::string_view ribbed = "rim_sag_x, rim_sag_y, twist, waviness, scallop, dents, surface_rms, surface_correlation";

std::string with(std::string_view own, std::string_view flaws) { return fmt::format("{}, {}", own, flaws); }

/// Every digit, so that a length comes back as it was.
std::string metres(double length) { return fmt::format("{:.17g} m", length); }

using Keys = std::vector<KeyText>;
Keys same_focal_length(const MirrorPattern& p) { return {{"focal_length", metres(p.focal_length)}}; }
Keys double_radius(const MirrorPattern& p) { return {{"radius", metres(2 * p.focal_length)}}; }
Keys same_length(const MirrorPattern& p) { return {{"length", metres(p.length)}}; }
Keys parabola_depth(const MirrorPattern& p) { return {{"depth", metres(p.width * p.width / (16 * p.focal_length))}}; }
Keys both(Keys first, const Keys& second) {
  first.insert(first.end(), second.begin(), second.end());
  return first;
}

constexpr std::string_view as_deep = "as deep as the paraboloid of this focal length and width";

std::vector<ShapeRow> make_rows() {
  return {
      {Paraboloid::words, "two of `focal_length`, `width`, `depth`",
       "every ray along the axis goes through the focus; depth = width² / (16 focal_length)", "focal_length, depth",
       with("width, hole_width, sag_x, sag_y", ribbed), read_paraboloid,
       Reshape{true, false, "focal length kept", same_focal_length}},
      {SphereBowl::words, "`radius`, `width`", "part of a ball; the width is at most twice the radius", "radius",
       with("width, hole_width", ribbed), read_sphere, Reshape{true, true, "radius = 2 × focal length", double_radius}},
      {Trough::words, "two of `focal_length`, `width`, `depth`; `length`", "a parabola across (x), straight along (y)",
       "focal_length, depth, length", with("width", bent), read_trough,
       Reshape{true, false, "focal length kept; as long as wide (a trough keeps its length)",
               [](const MirrorPattern& p) { return both(same_focal_length(p), same_length(p)); }}},
      {ArcTrough::words, "`radius`, `width`, `length`", "part of a pipe, straight along (y)", "radius, length",
       with("width", bent), read_arc_trough,
       Reshape{true, true, "radius = 2 × focal length; as long as wide (a trough keeps its length)",
               [](const MirrorPattern& p) { return both(double_radius(p), same_length(p)); }}},
      {Flat::words, "`width`, `length`", "a plane rectangle", "length", with("width", bent), read_flat,
       Reshape{false, false, "as long as wide (a trough keeps its length)", same_length}},
      {Cone::words, "`width`, `depth`", "straight from the tip to the rim", "depth", with("width, hole_width", ribbed),
       read_deep_dish<Cone>, Reshape{true, false, as_deep, parabola_depth}},
      {OffsetParaboloid::words, "`width` with `focal_length`, `clearance`; or `width`, `height`, `depth`",
       "a part of a paraboloid to one side of its axis, toward +y; its rim looks round along the axis",
       "focal_length, height, depth, clearance", with("width, hole_width", bent), read_offset_paraboloid, std::nullopt},
      {Facets::words, "`focal_length`, `width`, `tile`", "flat tiles whose middles lie on a frame",
       "focal_length, frame, tile, tile_shape, gap, tilt", "width, hole_width, tilt_error", read_facets,
       Reshape{true, false, "focal length kept; square tiles 1/12 of the width without gaps on a paraboloid",
               [](const MirrorPattern& p) {
                 return both(same_focal_length(p), {{"tile", metres(p.width / 12)}, {"gap", "0 m"}});
               }}},
      {Petals::words, "`focal_length`, `width`, `count`", "pieces of sheet that bend one way only, side by side round the axis",
       "focal_length, count, seams", with("width, hole_width", bent), read_petals,
       Reshape{true, false, "focal length kept; 12 petals",
               [](const MirrorPattern& p) {
                 return both(same_focal_length(p), {{"count", "12"}});
               }}},
      {Profile::words, "`file`; a trough also `length`", "your own curve, from a table", "length, file, kind, curve",
       with("hole_width", bent), read_profile, std::nullopt},
      {Catenary::words, "`width`, `depth`", "the curve of a hanging chain, turned about its axis", "depth",
       with("width, hole_width", ribbed), read_deep_dish<Catenary>, Reshape{true, false, as_deep, parabola_depth}},
      {Pressed::words, "`width`, `depth`",
       "a flat sheet held round its rim and pressed by air or water: round in the middle, flat again at the rim", "depth",
       with("width, hole_width", ribbed), read_deep_dish<Pressed>,
       Reshape{true, false, "focal length kept near the middle: depth = width² / (32 × focal length)",
               [](const MirrorPattern& p) {
                 return Keys{{"depth", metres(p.width * p.width / (32 * p.focal_length))}};
               }}},
      {Hyperboloid::words, "`near_focus`, `far_focus`, `width`",
       "a second mirror: bright on its bulging side (-z); sends light that is on its way to the near focus to the far one",
       "near_focus, far_focus", "width, hole_width", read_two_foci<Hyperboloid>, std::nullopt},
      {Ellipsoid::words, "`near_focus`, `far_focus`, `width`", "bright inside; light from one focus goes to the other",
       "near_focus, far_focus", "width, hole_width", read_two_foci<Ellipsoid>, std::nullopt},
      {Mesh::words, "`file`", "triangles from a drawing program", "file, normals, unit", "", read_mesh, std::nullopt},
      {Measured::words, "`file`", "a mirror as it was found: depths under a straightedge, or a cloud of points",
       "length, file, skin, unit", with("width, hole_width", ribbed), read_measured, std::nullopt},
  };
}

bool lists(std::string_view keys, std::string_view key) {
  const std::vector<std::string> all = split_words(keys);
  return std::find(all.begin(), all.end(), key) != all.end();
}

}  // namespace

MirrorPattern pattern_of(const ReflectorShape& shape) {
  MirrorPattern pattern;
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

const std::vector<ShapeRow>& all_shape_rows() {
  static const std::vector<ShapeRow> rows = make_rows();
  return rows;
}

const ShapeRow* find_shape_row(std::string_view shape) {
  const auto& rows = all_shape_rows();
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const ShapeRow& row) { return row.words.word == shape; });
  return found == rows.end() ? nullptr : &*found;
}

std::vector<std::string> shapes_with_own_key(std::string_view key) {
  std::vector<std::string> words;
  for (const ShapeRow& row : all_shape_rows()) {
    if (lists(row.curve, key) || lists(row.also, key)) words.emplace_back(row.words.word);
  }
  return words;
}

}  // namespace dishwright
