// SPDX-License-Identifier: MIT
// Offset paraboloids, and dishes made of pieces: facets and petals.
#include <fmt/format.h>

#include <cmath>

#include "scenefile/reflector_shapes.h"

namespace dishwright {

namespace {

struct Offset {
  double focal_length = 0, clearance = 0;
};

/// From the outline of a dish, as a tape measures it. The rim of a paraboloid cut by a cylinder of diameter W is a plane ellipse
/// with the short axis W and the long axis H = W/cos t; its plane leans by t, tan t = (clearance + W/2)/(2 f), and the mirror is
/// deepest under its middle: d = W² cos t/(16 f), square to that plane. So f = W³/(16 d H) and clearance = 2 f tan t − W/2.
Offset from_outline(double width, double height, double depth) {
  const double f = width * width * width / (16 * depth * height);
  const double lean = std::sqrt(std::max(0.0, height * height - width * width)) / width;  // tan t
  return {f, 2 * f * lean - width / 2};
}

bool refuse_both_ways(TableReader& table) {
  for (const char* outline : {"height", "depth"}) {
    for (const char* parabola : {"focal_length", "clearance"}) {
      if (!table.has(outline) || !table.has(parabola)) continue;
      table.report(
          outline, fmt::format("{} stands beside {}", table.echo(outline), parabola),
          "an offset paraboloid is given by width, focal_length and clearance, or by its outline: width, height and depth",
          fmt::format("take {} out, or {}", outline, parabola));
      return true;
    }
  }
  return false;
}

std::optional<Offset> read_outline(TableReader& table, double width, Scene& scene) {
  Needed needed(table);
  constexpr const char* why = "the outline of an offset paraboloid is width (short axis), height (long axis) and depth";
  const double height = needed("height", why), depth = needed("depth", why);
  if (!table.sound()) return std::nullopt;
  if (height < width) {
    table.report("height", fmt::format("{} is less than the width", table.echo("height")),
                 "the rim of an offset dish is an ellipse: width is its short axis, height its long one", "change the two over");
    return std::nullopt;
  }
  const Offset found = from_outline(width, height, depth);
  check_derived(table, "focal_length", found.focal_length, "focal_length = width^3 / (16 depth height)");
  check_derived(table, "clearance", found.clearance, "clearance follows from the lean of the rim, cos = width / height");
  scene.notes.push_back(fmt::format("{}: its outline gives focal_length {} and clearance {}", table.path(),
                                    in_both(found.focal_length), in_both(found.clearance)));
  return found;
}

std::optional<Offset> read_offset(TableReader& table) {
  Needed needed(table);
  constexpr const char* why =
      "an offset paraboloid is given by width, focal_length and clearance, or by its outline: width, height and depth";
  const double f = needed("focal_length", why), clearance = needed("clearance", why);
  return table.sound() ? std::optional<Offset>(Offset{f, clearance}) : std::nullopt;
}

}  // namespace

std::optional<ReflectorShape> read_offset_paraboloid(TableReader& table, const FilesBeside& /*files*/, Scene& scene) {
  const double width = Needed(table)("width", "the width of an offset paraboloid is the short axis of its rim");
  const double hole = table.measure_or_standard("hole_width");
  if (refuse_both_ways(table)) return std::nullopt;
  const bool outline = table.has("height") || table.has("depth");
  const std::optional<Offset> offset = outline ? read_outline(table, width, scene) : read_offset(table);
  if (!offset) return std::nullopt;
  return OffsetParaboloid{offset->focal_length, offset->clearance, width, hole};
}

std::optional<ReflectorShape> read_facets(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  Needed needed(table);
  Facets facets;
  const std::string frame = word_or_standard(table, "frame"), tile_shape = word_or_standard(table, "tile_shape");
  facets.frame = frame == "flat" ? FacetFrame::flat : frame == "sphere" ? FacetFrame::sphere : FacetFrame::paraboloid;
  facets.tile_shape = tile_shape == "hexagon" ? TileShape::hexagon : tile_shape == "round" ? TileShape::round : TileShape::square;
  facets.width = needed("width", "facets are given by focal_length, width and tile");
  facets.tile = needed("tile", "a tile has a size");
  facets.gap = table.measure_or_standard("gap");
  facets.hole_width = table.measure_or_standard("hole_width");
  facets.aim_at_target = word_or_standard(table, "tilt") == "target";
  if (facets.frame != FacetFrame::flat) {
    facets.focal_length =
        needed("focal_length", "the frame of the tiles has a focal length; a sphere has the radius 2 x focal_length");
  } else if (table.has("focal_length")) {
    table.report("focal_length", fmt::format("{} stands beside a flat frame", table.echo("focal_length")),
                 "a flat frame has no focal length: tilt = \"target\" aims its tiles at the first target", "take it out");
  }
  return facets;
}

std::optional<ReflectorShape> read_petals(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  Needed needed(table);
  constexpr const char* why = "petals are given by focal_length, width and count";
  Petals petals;
  petals.focal_length = needed("focal_length", why);
  petals.width = needed("width", why);
  if (!table.has("count")) table.report_missing("count", why);
  petals.count = static_cast<int>(table.whole("count").value_or(0));
  petals.seams_on_curve = word_or_standard(table, "seams") == "on curve";
  petals.hole_width = table.measure_or_standard("hole_width");
  return petals;
}

}  // namespace dishwright
