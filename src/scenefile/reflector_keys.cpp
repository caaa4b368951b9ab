// SPDX-License-Identifier: MIT
#include "scenefile/reflector_keys.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <deque>
#include <numbers>

#include "scenefile/shapes.h"

namespace dishwright {

namespace {

constexpr double degree = std::numbers::pi / 180, mrad = 1e-3;
constexpr double shortest = 1e-4, longest = 1e3;  // lengths of things [m]
constexpr double reach = 10e3;                    // coordinates [m]

using Text = std::string_view;

/// Stands for "the shapes whose row in scenefile/shapes.cpp lists the key".
constexpr Text own = "own";

/// A list of words that stays.
Text kept(const std::vector<std::string>& list) {
  static std::deque<std::string> texts;
  return texts.emplace_back(fmt::format("{}", fmt::join(list, ", ")));
}

Text all_words() {
  std::vector<std::string> words;
  for (const ShapeRow& row : all_shape_rows()) words.emplace_back(row.words.word);
  return kept(words);
}

KeyRow length_between(double low, Text key, Text shapes, Text standard, Text example, Text help) {
  return {"reflector", key,     shapes, ValueKind::quantity, Dimension::length, low, longest, false, false, "",
          standard,    example, help};
}

/// A length of a thing: 0.1 mm to 1 km.
KeyRow length(Text key, Text shapes, Text example, Text help) { return length_between(shortest, key, shapes, "", example, help); }

KeyRow words(Text key, Text shapes, Text list, Text standard, Text example, Text help) {
  return {"reflector", key, shapes, ValueKind::word, Dimension::number, 0, 0, false, false, list, standard, example, help};
}

KeyRow spread(Text key, Text help) {
  return {"reflector", key,          "",  ValueKind::quantity, Dimension::angle, 0, 200 * mrad, false, false, "",
          "0 mrad",    "\"4 mrad\"", help};
}

/// The keys of the shape itself.
std::vector<KeyRow> shape_rows() {
  return {
      words("shape", "", all_words(), "", "\"paraboloid\"", "what the mirror is"),
      length("focal_length", own, "\"24 in\"", "vertex to focus"),
      length("radius", own, "\"48 in\"", "of the circle it is cut from; the focus is at half of it"),
      length("width", own, "\"48 in\"", "rim to rim, along x; of an offset paraboloid the short axis of the rim"),
      length("height", own, "\"26 in\"", "long axis of the rim; with depth instead of focal_length and clearance"),
      length("depth", own, "\"6 in\"", "vertex to the plane of the rim"),
      length("depth", "offset paraboloid", "\"2 1/4 in\"", "deepest place, square to the plane of the rim; with height"),
      length_between(
          -longest, "clearance", own, "", "\"1 in\"",
          "from the axis of the whole parabola to the near edge, toward +y; less than 0 where the axis goes through the mirror"),
      length("length", own, "\"60 in\"", "along y; of a profile or a measured mirror only if it is a trough"),
      length("near_focus", own, "\"6 in\"", "vertex to the near focus, toward +z"),
      length("far_focus", own, "\"30 in\"", "vertex to the far focus: toward +z for an ellipsoid, toward -z for a hyperboloid"),
      words("frame", own, "paraboloid, sphere, flat", "paraboloid", "\"paraboloid\"",
            "the curve that the middles of the tiles lie on; a sphere has the radius 2 x focal_length, a flat frame has no "
            "focal_length"),
      length("tile", own, "\"2 in\"", "side of a square tile, across the flats of a hexagon, diameter of a round one"),
      words("tile_shape", own, "square, hexagon, round", "square", "\"square\"", "what the tiles are"),
      length_between(0, "gap", own, "0 in", "\"1/8 in\"", "between tiles, as seen from the front"),
      words("tilt", own, "frame, target", "frame", "\"frame\"",
            "frame: each tile lies along the frame; target: each sends the light from +z to the centre of the first target"),
      {"reflector", "count", own, ValueKind::whole, Dimension::number, 3, 1000, false, false, "", "", "12",
       "how many petals go round"},
      words("seams", own, "off curve, on curve", "off curve", "\"off curve\"",
            "off curve: the middle line of each petal is the parabola; on curve: the seams are"),
      {"reflector", "file", own, ValueKind::text, Dimension::number, 0, 0, false, false, "", "", "\"curve.csv\"",
       "a table of the curve (.csv), a mesh (.stl, .obj, .ply), or readings (.csv) or points (.csv, .ply, .obj, .stl) of a "
       "measured mirror; "
       "looked up beside the project file"},
      length("skin", own, "\"1/8 in\"", "if the outer face was measured: thickness between it and the mirror face"),
      words("kind", own, "dish, trough", "dish", "\"dish\"",
            "dish: the curve is turned about its axis; trough: drawn out along y"),
      words("curve", own, "fair, straight", "fair", "\"fair\"",
            "fair: a smooth curve through the points; straight: from point to point"),
      words("normals", own, "smooth, flat", "smooth", "\"smooth\"",
            "smooth: the triangles stand for a rounded surface; flat: each is a flat mirror"),
      words("unit", own, "m, cm, mm, in, ft", "m", "\"in\"",
            "what the numbers of the .stl, .obj or .ply file are in; such files do not say it"),
      length_between(0, "hole_width", own, "0 in", "\"4 in\"",
                     "round hole about the vertex (of an offset paraboloid: about its middle); less than width"),
  };
}

/// Where it stands and what its skin does.
std::vector<KeyRow> other_rows() {
  return {
      {"reflector", "at", "", ValueKind::triple, Dimension::length, -reach, reach, false, false, "", "the origin",
       "[\"0 in\", \"0 in\", \"0 in\"]", "where its vertex stands: x, y, z"},
      {"reflector", "turn", "", ValueKind::triple, Dimension::angle, -360 * degree, 360 * degree, false, false, "", "no turn",
       "[\"0 deg\", \"10 deg\", \"0 deg\"]", "turns it about the x, then the y, then the z axis"},
      words("finish", "", "", "", "\"aluminised film\"", "a row of the table of finishes; sets the reflectance"),
      {"reflector", "reflectance", "", ValueKind::number, Dimension::number, 0, 1, false, false, "", "1", "0.86",
       "share of the light that is reflected; instead of finish"},
      {"reflector", "wave_reflectance", "", ValueKind::number, Dimension::number, 0, 1, false, false, "", "1", "0.8",
       "share of the power of sound or radio that is reflected; finish and reflectance are for light"},
      spread("slope_error", "rms tilt of the surface about each axis; it turns the light by twice as much"),
      spread("specular_spread", "rms spread of the reflected light about each axis, not doubled"),
  };
}

/// What goes wrong with the shape, and dirt.
std::vector<KeyRow> flaw_rows() {
  const auto number = [](Text key, Text shapes, double low, double high, Text example, Text help) {
    return KeyRow{"reflector", key,     shapes, ValueKind::number, Dimension::number, low, high, false, false, "",
                  "0",         example, help};
  };
  const auto table = [](Text key, Text shapes, ValueKind kind, Text example, Text help) {
    return KeyRow{"reflector", key, shapes, kind, Dimension::number, 0, 0, false, false, "", "none", example, help};
  };
  const auto inner = [](Text section, Text key, Dimension dimension, double low, double high, Text standard, Text example,
                        Text help) {
    return KeyRow{section, key, "", ValueKind::quantity, dimension, low, high, false, false, "", standard, example, help};
  };
  return {
      number(
          "sag_x", own, -0.5, 1, "0.05",
          "the focal length along x is longer by this share: spring-back; with sag_y = -0.05 a saddle; as a length: rim_sag_x"),
      number("sag_y", own, -0.5, 1, "-0.05", "the same along y"),
      {"reflector", "rim_sag_x", own, ValueKind::quantity, Dimension::length, -10, 10, false, false, "", "0 in", "\"1/8 in\"",
       "how far the rim hangs below its place at both ends along x, as a tape reads it: height = -rim_sag_x (x / half width)²; "
       "below 0 the rim stands up"},
      {"reflector", "rim_sag_y", own, ValueKind::quantity, Dimension::length, -10, 10, false, false, "", "0 in", "\"1/8 in\"",
       "the same along y; both alike: the whole rim, as of petals whose tips hang"},
      {"reflector", "twist", own, ValueKind::quantity, Dimension::angle, -30 * degree, 30 * degree, false, false, "", "0 deg",
       "\"1 deg\"",
       "two opposite corners high, two low: height = twist x y / rim radius, x and y from the middle of the outline"},
      table("waviness", own, ValueKind::table, "{ amplitude = \"1/32 in\", period = \"6 in\" }",
            "even ripples over the whole mirror"),
      table("scallop", own, ValueKind::table, "{ ribs = 12, depth = \"1/8 in\" }",
            "skin that hangs through between ribs; the first rib is at +x"),
      table("dents", own, ValueKind::tables, "[{ at = [\"10 in\", \"0 in\"], width = \"4 in\", depth = \"1/8 in\" }]",
            "round dents away from the sun"),
      {"reflector", "surface_rms", own, ValueKind::quantity, Dimension::length, 0, 0.1, false, false, "", "0 in", "\"1/32 in\"",
       "bumps by chance, the same dish for the same seed: rms over the mirror of the half-path error along the axis (on a "
       "shallow mirror: of the height)"},
      {"reflector", "surface_correlation", own, ValueKind::quantity, Dimension::length, shortest, longest, false, false, "", "",
       "\"4 in\"", "how far a bump reaches: places this far apart agree by 37 %; from 1/40 to 1/3 of the mirror"},
      {"reflector", "tilt_error", own, ValueKind::quantity, Dimension::angle, 0, 100 * mrad, false, false, "", "0 mrad",
       "\"5 mrad\"", "rms lean of each tile about each of its edges; drawn from the seed, so the same dish each time"},
      table("wire_mesh", "", ValueKind::table, "{ pitch = \"1/4 in\", wire = \"1/32 in\" }",
            "the skin is a square wire mesh, and radio leaks through it; light and sound take no notice"),
      number("dirt", "", 0, 1, "0.05", "share of the reflectance that is lost to dust and dew"),
      inner("wire_mesh", "pitch", Dimension::length, shortest, longest, "", "\"1/4 in\"",
            "from the middle of one wire to the next; less than 1/3 of the wavelength"),
      inner("wire_mesh", "wire", Dimension::length, shortest / 10, longest, "", "\"1/32 in\"",
            "diameter of the wire; less than 1/6 of the pitch"),
      inner("waviness", "amplitude", Dimension::length, 0, 1, "", "\"1/32 in\"", "half the height from trough to crest"),
      inner("waviness", "period", Dimension::length, shortest, longest, "", "\"6 in\"",
            "from crest to crest; not under 1/30 of the mirror"),
      inner("waviness", "direction", Dimension::angle, -360 * degree, 360 * degree, "0 deg", "\"90 deg\"",
            "across the crests: 0 deg = along x"),
      {"scallop", "ribs", "", ValueKind::whole, Dimension::number, 2, 64, false, false, "", "", "12", "how many ribs"},
      inner("scallop", "depth", Dimension::length, 0, 1, "", "\"1/8 in\"", "at the rim, half way between two ribs"),
      {"dents", "at", "", ValueKind::pair, Dimension::length, -reach, reach, false, false, "", "", "[\"10 in\", \"0 in\"]",
       "its middle: x, y"},
      inner("dents", "width", Dimension::length, shortest, longest, "", "\"4 in\"", "where the dent ends"),
      inner("dents", "depth", Dimension::length, -1, 1, "", "\"1/8 in\"", "in its middle; less than 0: a bump"),
  };
}

/// Shapes whose row has the key, but for those that have a row of the key to themselves.
std::vector<std::string> shapes_of_own(Text key, const std::vector<KeyRow>& rows) {
  std::vector<std::string> shapes = shapes_with_own_key(key);
  for (const KeyRow& row : rows) {
    if (row.key == key && row.shapes != own) std::erase(shapes, row.shapes);
  }
  return shapes;
}

}  // namespace

std::vector<KeyRow> reflector_key_rows() {
  std::vector<KeyRow> rows = shape_rows();
  for (const KeyRow& row : other_rows()) rows.push_back(row);
  for (const KeyRow& row : flaw_rows()) rows.push_back(row);
  for (KeyRow& row : rows) {
    if (row.shapes == own) row.shapes = kept(shapes_of_own(row.key, rows));
  }
  return rows;
}

}  // namespace dishwright
