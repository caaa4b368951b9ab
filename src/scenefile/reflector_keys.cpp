// SPDX-License-Identifier: MIT
#include "scenefile/reflector_keys.h"

#include <numbers>

namespace dishwright {

namespace {

constexpr double degree = std::numbers::pi / 180, mrad = 1e-3;
constexpr double shortest = 1e-4, longest = 1e3;  // lengths of things [m]
constexpr double reach = 10e3;                    // coordinates [m]

using Text = std::string_view;

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
  constexpr Text all =
      "paraboloid, sphere, trough, arc trough, flat, cone, offset paraboloid, facets, petals, profile, catenary, hyperboloid, "
      "ellipsoid, mesh, measured";
  constexpr Text with_width =
      "paraboloid, sphere, trough, arc trough, flat, cone, offset paraboloid, facets, petals, catenary, hyperboloid, ellipsoid, "
      "measured";
  constexpr Text round =
      "paraboloid, sphere, cone, offset paraboloid, facets, petals, profile, catenary, hyperboloid, ellipsoid, measured";
  return {
      words("shape", "", all, "", "\"paraboloid\"", "what the mirror is"),
      length("focal_length", "paraboloid, trough, offset paraboloid, facets, petals", "\"24 in\"", "vertex to focus"),
      length("radius", "sphere, arc trough", "\"48 in\"", "of the circle it is cut from; the focus is at half of it"),
      length("width", with_width, "\"48 in\"", "rim to rim, along x; of an offset paraboloid the short axis of the rim"),
      length("height", "offset paraboloid", "\"26 in\"",
             "long axis of the rim; with depth instead of focal_length and clearance"),
      length("depth", "paraboloid, trough, cone, catenary", "\"6 in\"", "vertex to the plane of the rim"),
      length("depth", "offset paraboloid", "\"2 1/4 in\"", "deepest place, square to the plane of the rim; with height"),
      length_between(
          -longest, "clearance", "offset paraboloid", "", "\"1 in\"",
          "from the axis of the whole parabola to the near edge, toward +y; less than 0 where the axis goes through the mirror"),
      length("length", "trough, arc trough, flat, profile, measured", "\"60 in\"",
             "along y; of a profile or a measured mirror only if it is a trough"),
      length("near_focus", "hyperboloid, ellipsoid", "\"6 in\"", "vertex to the near focus, toward +z"),
      length("far_focus", "hyperboloid, ellipsoid", "\"30 in\"",
             "vertex to the far focus: toward +z for an ellipsoid, toward -z for a hyperboloid"),
      words("frame", "facets", "paraboloid, sphere, flat", "paraboloid", "\"paraboloid\"",
            "the curve that the middles of the tiles lie on; a sphere has the radius 2 x focal_length, a flat frame has no "
            "focal_length"),
      length("tile", "facets", "\"2 in\"", "side of a square tile, across the flats of a hexagon, diameter of a round one"),
      words("tile_shape", "facets", "square, hexagon, round", "square", "\"square\"", "what the tiles are"),
      length_between(0, "gap", "facets", "0 in", "\"1/8 in\"", "between tiles, as seen from the front"),
      words("tilt", "facets", "frame, target", "frame", "\"frame\"",
            "frame: each tile lies along the frame; target: each sends the light from +z to the centre of the first target"),
      {"reflector", "count", "petals", ValueKind::whole, Dimension::number, 3, 1000, false, false, "", "", "12",
       "how many petals go round"},
      words("seams", "petals", "off curve, on curve", "off curve", "\"off curve\"",
            "off curve: the middle line of each petal is the parabola; on curve: the seams are"),
      {"reflector", "file", "profile, mesh, measured", ValueKind::text, Dimension::number, 0, 0, false, false, "", "",
       "\"curve.csv\"",
       "a table of the curve (.csv), a mesh (.stl, .obj, .ply), or readings (.csv) or points (.csv, .ply, .obj, .stl) of a "
       "measured mirror; "
       "looked up beside the project file"},
      length("skin", "measured", "\"1/8 in\"", "if the outer face was measured: thickness between it and the mirror face"),
      words("kind", "profile", "dish, trough", "dish", "\"dish\"",
            "dish: the curve is turned about its axis; trough: drawn out along y"),
      words("curve", "profile", "fair, straight", "fair", "\"fair\"",
            "fair: a smooth curve through the points; straight: from point to point"),
      words("normals", "mesh", "smooth, flat", "smooth", "\"smooth\"",
            "smooth: the triangles stand for a rounded surface; flat: each is a flat mirror"),
      words("unit", "mesh, measured", "m, cm, mm, in, ft", "m", "\"in\"",
            "what the numbers of the .stl, .obj or .ply file are in; such files do not say it"),
      length_between(0, "hole_width", round, "0 in", "\"4 in\"",
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
      spread("slope_error", "rms tilt of the surface about each axis; it turns the light by twice as much"),
      spread("specular_spread", "rms spread of the reflected light about each axis, not doubled"),
  };
}

}  // namespace

std::vector<KeyRow> reflector_key_rows() {
  std::vector<KeyRow> rows = shape_rows();
  for (const KeyRow& row : other_rows()) rows.push_back(row);
  return rows;
}

}  // namespace dishwright
