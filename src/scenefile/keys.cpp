// SPDX-License-Identifier: MIT
#include "scenefile/keys.h"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "scenefile/reflector_keys.h"
#include "scenefile/shapes.h"

namespace dishwright {

namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double shortest = 1e-4, longest = 1e3;  // lengths of things [m]
constexpr double reach = 10e3;                    // coordinates [m]
constexpr double mrad = 1e-3;

/// A length of a thing: 0.1 mm to 1 km.
KeyRow length(std::string_view section, std::string_view key, std::string_view shapes, std::string_view example,
              std::string_view help) {
  return {section, key, shapes, ValueKind::quantity, Dimension::length, shortest, longest, false, false, "", "", example, help};
}

KeyRow words(std::string_view section, std::string_view key, std::string_view list, std::string_view standard,
             std::string_view example, std::string_view help) {
  return {section, key, "", ValueKind::word, Dimension::number, 0, 0, false, false, list, standard, example, help};
}

KeyRow turn(std::string_view section) {
  return {section,
          "turn",
          "",
          ValueKind::triple,
          Dimension::angle,
          -360 * degree,
          360 * degree,
          false,
          false,
          "",
          "no turn",
          "[\"0 deg\", \"10 deg\", \"0 deg\"]",
          "turns it about the x, then the y, then the z axis"};
}

KeyRow moment(std::string_view section, std::string_view key, std::string_view help) {
  return {section, key, "", ValueKind::moment, Dimension::time, 0, 0, false, false, "", "", "\"2026-06-21T10:30-05:00\"", help};
}

std::vector<KeyRow> sun_keys() {
  return {
      {"sun", "beam", "", ValueKind::quantity, Dimension::irradiance, 0, 1500, true, false, "", "1000 W/m2", "\"850 W/m2\"",
       "direct sunlight on a surface that faces the sun; \"clear sky\" works it out for [place] and time"},
      moment("sun", "time", "date and clock with its offset from UTC: when the sun is looked at; needs [place]"),
      {"sun", "turbidity", "", ValueKind::number, Dimension::number, 1, 10, false, false, "", "3", "3",
       "haze of a clear sky after Linke: 2 very clear, 3 clear, 5 hazy; only with beam = \"clear sky\""},
      words("sun", "disc", "uniform, limb-darkened, aureole", "limb-darkened", "\"limb-darkened\"",
            "how bright the sun is from its centre to its edge, and around it"),
      {"sun", "half_angle", "", ValueKind::quantity, Dimension::angle, 0, 50 * mrad, false, false, "", "4.65 mrad",
       "\"4.65 mrad\"", "from the centre of the sun to its edge; \"0 mrad\" makes it a point"},
      {"sun", "aureole_share", "", ValueKind::number, Dimension::number, 0, 0.8, false, false, "", "0.05", "0.05",
       "share of the light that comes from the glow around the disc; only with disc = \"aureole\""},
      {"sun", "aim_error", "", ValueKind::quantity, Dimension::angle, 0, 90 * degree, false, true, "", "0 deg", "\"0.5 deg\"",
       "angle from the z axis to the centre of the sun"},
      {"sun", "aim_direction", "", ValueKind::quantity, Dimension::angle, -360 * degree, 360 * degree, false, false, "", "0 deg",
       "\"90 deg\"", "the side the sun leans to: 0 deg = +x, 90 deg = +y; the spot moves the other way"},
  };
}

std::vector<KeyRow> place_keys() {
  constexpr double lowest = -500, highest = 9000;
  return {
      {"place", "latitude", "", ValueKind::quantity, Dimension::angle, -90 * degree, 90 * degree, false, false, "", "",
       "\"40.5 deg N\"", "north of the equator; with S behind it, or negative: south"},
      {"place", "longitude", "", ValueKind::quantity, Dimension::angle, -180 * degree, 180 * degree, false, false, "", "",
       "\"89 deg 30' W\"", "east of Greenwich; with W behind it, or negative: west"},
      {"place", "altitude", "", ValueKind::quantity, Dimension::length, lowest, highest, false, false, "", "0 m", "\"300 m\"",
       "above the sea; for the clear sky and the lift by the air"},
      {"place", "declination", "", ValueKind::quantity, Dimension::angle, -180 * degree, 180 * degree, false, false, "", "",
       "\"3 deg W\"", "the way a compass needle points, east (E) or west (W) of true north; for aiming by compass"},
  };
}

std::vector<KeyRow> mount_keys() {
  return {
      words("mount", "kind", "altitude-azimuth, tilted axis", "altitude-azimuth", "\"altitude-azimuth\"",
            "how the mirror is carried: it can point anywhere, upright; or it turns about one fixed axis, its y axis (a trough)"),
      moment("mount", "aimed", "pointed at the sun at this time and not touched since; left out, it follows the sun"),
      {"mount", "elevation", "", ValueKind::quantity, Dimension::angle, -90 * degree, 90 * degree, false, false, "", "",
       "\"90 deg\"", "parked, whatever the sun does: where its z axis points, above the horizon; with azimuth"},
      {"mount", "azimuth", "", ValueKind::quantity, Dimension::angle, -360 * degree, 360 * degree, false, false, "", "",
       "\"180 deg\"", "parked: the compass direction of its z axis, clockwise from true north"},
      {"mount", "axis_azimuth", "", ValueKind::quantity, Dimension::angle, -360 * degree, 360 * degree, false, false, "", "0 deg",
       "\"90 deg\"", "tilted axis: the direction of its upper end, clockwise from true north"},
      {"mount", "axis_tilt", "", ValueKind::quantity, Dimension::angle, 0, 90 * degree, false, false, "", "0 deg", "\"30 deg\"",
       "tilted axis: how steep it stands above the level"},
  };
}

std::vector<KeyRow> lamp_keys() {
  constexpr double most_watts = 1e5, most_lumens = 1e6;
  return {
      words("lamp", "shape", "ball, disk, line", "", "\"ball\"", "what shines"),
      length("lamp", "width", "ball, disk", "\"1 in\"", "diameter"),
      length("lamp", "length", "line", "\"3 in\"", "along y"),
      {"lamp", "at", "", ValueKind::place, Dimension::length, -reach, reach, false, false, "", "", "\"focus of dish\"",
       "where its centre stands"},
      {"lamp", "offset", "", ValueKind::triple, Dimension::length, -reach, reach, false, false, "", "no offset",
       "[\"0 in\", \"0 in\", \"1 in\"]", "moves it away from there; in the axes of the reflector it is the focus of"},
      turn("lamp"),
      {"lamp", "power", "", ValueKind::quantity, Dimension::power, 0, most_watts, true, false, "", "", "\"60 W\"",
       "all the light it sends out, in watts of light (a bulb sends out less light than the watts it draws)"},
      {"lamp", "light", "", ValueKind::quantity, Dimension::luminous_flux, 0, most_lumens, true, false, "", "", "\"800 lm\"",
       "the same in lumens, as on the bulb's box; instead of power"},
  };
}

/// The side that a far wave comes from, as for the sun.
std::vector<KeyRow> aim_keys(std::string_view section) {
  return {
      {section, "aim_error", "", ValueKind::quantity, Dimension::angle, 0, 90 * degree, false, true, "", "0 deg", "\"5 deg\"",
       "angle from the z axis to where the wave comes from (or, sending, to where it is wanted)"},
      {section, "aim_direction", "", ValueKind::quantity, Dimension::angle, -360 * degree, 360 * degree, false, false, "",
       "0 deg", "\"90 deg\"", "the side it leans to: 0 deg = +x, 90 deg = +y"},
  };
}

std::vector<KeyRow> sound_keys() {
  constexpr double lowest = 1, highest = 1e6, slowest = 100, fastest = 2000;
  std::vector<KeyRow> rows = {
      {"sound", "frequency", "", ValueKind::quantities, Dimension::frequency, lowest, highest, false, false, "", "", "\"2 kHz\"",
       "pitch of the sound"},
      {"sound", "speed", "", ValueKind::quantity, Dimension::speed, slowest, fastest, false, false, "", "", "\"343 m/s\"",
       "speed of the sound; left out, it follows from the temperature of [air]"},
      {"sound", "from", "", ValueKind::place, Dimension::length, -reach, reach, false, false, "far, focus", "far", "\"far\"",
       "where it comes from: far away, a place, or a speaker at the focus: the first target where that stands there (the dish "
       "then "
       "sends), else a speaker that the targets listen to"},
  };
  for (const KeyRow& row : aim_keys("sound")) rows.push_back(row);
  rows.push_back(words("sound", "voice", "normal, raised, loud, shout", "", "\"raised\"",
                       "somebody who speaks: how loud it is at several distances, without and with the dish"));
  rows.push_back(
      length("sound", "facing", "", "\"60 ft\"",
             "from the vertex to that of an equal dish that faces this one: the gain from the first target of one to that of "
             "the other"));
  return rows;
}

std::vector<KeyRow> radio_keys() {
  constexpr double lowest = 1e6, highest = 1e12, narrowest_feed = 200, least_taper = -60;
  std::vector<KeyRow> rows = {
      {"radio", "frequency", "", ValueKind::quantities, Dimension::frequency, lowest, highest, false, false, "", "",
       "\"1680 MHz\"", "of the carrier"},
      {"radio", "feed", "", ValueKind::table, Dimension::number, 0, 0, false, false, "", "an edge level of -10 dB",
       "{ kind = \"edge\", taper = \"-10 dB\" }", "how the feed at the target sends or hears to the sides"},
  };
  for (const KeyRow& row : aim_keys("radio")) rows.push_back(row);
  rows.push_back(words("feed", "kind", "cosine, edge", "", "\"edge\"",
                       "cosine: by its power; edge: by its own level at the rim of the mirror"));
  rows.push_back({"feed", "power", "", ValueKind::number, Dimension::number, 0, narrowest_feed, false, false, "", "", "2",
                  "kind cosine: the power it sends falls off as this power of the cosine from its axis"});
  rows.push_back({"feed", "taper", "", ValueKind::quantity, Dimension::level, least_taper, 0, false, false, "", "", "\"-10 dB\"",
                  "kind edge: level toward the rim against its axis; the longer way to the rim is not counted"});
  return rows;
}

std::vector<KeyRow> link_keys() {
  constexpr double least_watts = 1e-6, most_watts = 1e5, least_gain = -60, most_level = 200, nearest = 1, farthest = 1e9;
  return {
      {"link", "transmit_power", "", ValueKind::quantity, Dimension::power, least_watts, most_watts, false, false, "", "",
       "\"400 mW\"", "what the other station's transmitter sends out"},
      {"link", "transmit_gain", "", ValueKind::quantity, Dimension::level, least_gain, most_level, false, false, "", "0 dB",
       "\"2 dB\"", "gain of its antenna toward the dish, over one that sends to all sides alike"},
      {"link", "distance", "", ValueKind::quantity, Dimension::length, nearest, farthest, false, false, "", "", "\"60 km\"",
       "from there to the dish"},
      {"link", "losses", "", ValueKind::quantity, Dimension::level, 0, most_level, false, false, "", "0 dB", "\"3 dB\"",
       "all else on the way: cables, aim, rain"},
      {"link", "needed", "", ValueKind::quantity, Dimension::power_level, -most_level, most_level, false, false, "", "",
       "\"-110 dBm\"", "the faintest that the receiver understands (its sensitivity), over 1 mW"},
  };
}

std::vector<KeyRow> air_keys() {
  constexpr double coldest = 223.15, hottest = 333.15;
  return {
      {"air", "temperature", "", ValueKind::quantity, Dimension::temperature, coldest, hottest, false, false, "", "20 °C",
       "\"68 degF\"", "sets the speed of sound; of sunlight, how far the air lifts the sun, and how much heat a load loses"},
      {"air", "humidity", "", ValueKind::number, Dimension::number, 0, 1, false, false, "", "0.5", "\"40 %\"",
       "relative humidity; with temperature and pressure it sets what the air swallows on the way of a voice, and how an open "
       "pot steams"},
      {"air", "pressure", "", ValueKind::quantity, Dimension::pressure, 30e3, 120e3, false, false, "", "101.325 kPa",
       "\"30 inHg\"", "of the air where the dish stands; left out beside [place], that of its altitude"},
      {"air", "wind", "", ValueKind::quantity, Dimension::speed, 0, 30, false, false, "", "2 m/s", "\"5 mph\"",
       "past the load; it takes heat away"},
  };
}

std::vector<KeyRow> load_keys() {
  constexpr double coldest = 253.15, hottest = 1773.15, lightest = 1e-3, heaviest = 1e3, least = 1e-6, most = 1;
  return {
      {"load", "target", "", ValueKind::text, Dimension::number, 0, 0, false, false, "", "", "\"kettle\"",
       "the target that it stands in, or is"},
      words("load", "stuff", "water, cooking oil, steel, cast iron, aluminium, copper, glass, sand, wood", "water", "\"water\"",
            "what is heated"),
      {"load", "mass", "", ValueKind::quantity, Dimension::mass, lightest, heaviest, false, false, "", "", "\"2 lb\"",
       "how much of it"},
      {"load", "volume", "", ValueKind::quantity, Dimension::volume, least, most, false, false, "", "", "\"1 L\"",
       "the same; instead of mass"},
      words("load", "vessel", "steel, cast iron, aluminium, copper, glass, none", "", "\"steel\"", "what the vessel is made of"),
      {"load", "vessel_mass", "", ValueKind::quantity, Dimension::mass, 0, heaviest, false, false, "", "", "\"1.2 lb\"",
       "of the empty vessel, lid too"},
      words("load", "surface", "flat black paint, soot, white paint, bare cast iron, bare steel, bare aluminium, dry straw",
            "flat black paint", "\"flat black paint\"", "skin of the target: what it takes in and what it radiates"),
      {"load", "absorptance", "", ValueKind::number, Dimension::number, 0, 1, true, false, "", "", "0.95",
       "share of sunlight that the target takes in; instead of that of surface"},
      {"load", "emittance", "", ValueKind::number, Dimension::number, 0.01, 1, false, false, "", "", "0.9",
       "heat that the target radiates, as a share of what a black body does; instead of that of surface"},
      {"load", "lid", "", ValueKind::truth, Dimension::number, 0, 0, false, false, "", "true", "true",
       "of a pot of water: with false it steams before it boils"},
      {"load", "start", "", ValueKind::quantity, Dimension::temperature, coldest, hottest, false, false, "", "", "\"60 degF\"",
       "how warm it is at the start"},
      {"load", "wanted", "", ValueKind::quantity, Dimension::temperature, coldest, hottest, false, false, "", "", "\"180 degF\"",
       "how hot it has to become"},
      {"load", "minutes", "", ValueKind::quantity, Dimension::time, 6, 86400, false, false, "", "", "\"10 min\"",
       "the goal: so soon; a bare number counts minutes"},
  };
}

std::vector<KeyRow> target_keys() {
  return {
      words("target", "shape", "disk, rectangle, tube, ball, pot", "", "\"pot\"",
            "what catches the light; sound and radio may leave it out: a point without a body"),
      length("target", "width", "", "\"6 in\"", "diameter of a round thing; of a rectangle its side along x"),
      length("target", "length", "rectangle, tube", "\"60 in\"", "along y"),
      length("target", "height", "pot", "\"5 in\"", "base to lid"),
      {"target", "at", "", ValueKind::place, Dimension::length, -reach, reach, false, false, "", "", "\"focus of dish\"",
       "where its centre stands (of a pot: the centre of its base)"},
      {"target", "offset", "", ValueKind::triple, Dimension::length, -reach, reach, false, false, "", "no offset",
       "[\"0 in\", \"0 in\", \"1 in\"]", "moves it away from there; in the axes of the reflector it is the focus of"},
      turn("target"),
      {"target", "shades", "", ValueKind::truth, Dimension::number, 0, 0, false, false, "", "true", "true",
       "whether it blocks light on its way to the mirror"},
  };
}

std::vector<KeyRow> trace_keys() {
  constexpr double most_paths = 1e11, most_seed = 9.223372036854775807e18;
  return {
      {"trace", "paths", "", ValueKind::whole, Dimension::number, 64, most_paths, false, false, "", "1_000_000", "1_000_000",
       "how many paths of light are followed"},
      {"trace", "accuracy", "", ValueKind::number, Dimension::number, 0, 0.5, true, false, "", "", "\"0.2 %\"",
       "wanted standard error of the first target's intercept; the number of paths is chosen for it"},
      {"trace", "seed", "", ValueKind::whole, Dimension::number, 0, most_seed, false, false, "", "1", "7",
       "start of the random numbers; the same seed gives the same figures"},
      words("trace", "method", "rays, quadrature, auto", "rays", "\"rays\"",
            "how the light is computed: paths by chance, smooth images without chance (not for every scene), or those where they "
            "are quicker"),
  };
}

std::vector<KeyRow> make_keys() {
  std::vector<KeyRow> keys = {{"", "title", "", ValueKind::text, Dimension::number, 0, 0, false, false, "", "", "\"Kettle dish\"",
                               "a name for the project, printed on every result"}};
  for (const auto& more : {sun_keys(), place_keys(), mount_keys(), lamp_keys(), sound_keys(), radio_keys(), link_keys(),
                           air_keys(), load_keys(), reflector_key_rows(), target_keys(), trace_keys()})
    keys.insert(keys.end(), more.begin(), more.end());
  return keys;
}

/// 100_000_000_000; the largest whole number of TOML is not a double, so it is spelled out.
std::string grouped(double value) {
  if (value > 9e18) return "9_223_372_036_854_775_807";
  std::string text = fmt::format("{:.0f}", value);
  for (std::size_t at = text.size(); at > 3; at -= 3) text.insert(at - 3, "_");
  return text;
}

bool has_shape(const KeyRow& row, std::string_view shape) {
  if (row.shapes.empty() || shape.empty()) return true;
  const auto shapes = split_words(row.shapes);
  return std::find(shapes.begin(), shapes.end(), shape) != shapes.end();
}

/// Words that people often write, and ours.
struct Pair {
  std::string_view common, ours;
};
constexpr Pair pairs[] = {
    {"diameter", "width"},
    {"dia", "width"},
    {"size", "width"},
    {"aperture", "width"},
    {"focus", "focal_length"},
    {"focal", "focal_length"},
    {"f", "focal_length"},
    {"focal length", "focal_length"},
    {"position", "at"},
    {"location", "at"},
    {"center", "at"},
    {"centre", "at"},
    {"rotation", "turn"},
    {"rotate", "turn"},
    {"angle", "turn"},
    {"tilt", "turn"},
    {"material", "finish"},
    {"surface", "finish"},
    {"skin", "finish"},
    {"reflectivity", "reflectance"},
    {"date", "time"},
    {"datetime", "time"},
    {"lat", "latitude"},
    {"lon", "longitude"},
    {"long", "longitude"},
    {"height", "altitude"},
    {"site", "place"},
    {"linke", "turbidity"},
    {"rays", "paths"},
    {"samples", "paths"},
    {"type", "shape"},
    {"kind", "shape"},
    {"irradiance", "beam"},
    {"dni", "beam"},
    {"name", "title"},
    {"roughness", "slope_error"},
    {"hole", "hole_width"},
    {"hub", "hole_width"},
    {"shade", "shades"},
    {"parabola", "paraboloid"},
    {"parabolic", "paraboloid"},
    {"dish", "paraboloid"},
    {"bowl", "sphere"},
    {"spherical", "sphere"},
    {"cylinder", "tube"},
    {"pipe", "tube"},
    {"circle", "disk"},
    {"disc", "disk"},
    {"square", "rectangle"},
    {"plate", "rectangle"},
    {"kettle", "pot"},
    {"can", "pot"},
    {"plane", "flat"},
    {"sheet", "flat"},
    {"mirror", "reflector"},
    {"receiver", "target"},
    {"absorber", "target"},
    {"source", "sun"},
    {"light", "sun"},
    {"random_seed", "seed"},
    {"watts", "power"},
    {"wattage", "power"},
    {"lumens", "light"},
    {"lumen", "light"},
    {"brightness", "light"},
    {"bulb", "lamp"},
    {"globe", "ball"},
    {"filament", "line"},
    {"tiles", "tile"},
    {"tile_size", "tile"},
    {"tile_width", "tile"},
    {"spacing", "gap"},
    {"facet", "facets"},
    {"segments", "facets"},
    {"mosaic", "facets"},
    {"hexagonal", "hexagon"},
    {"hex", "hexagon"},
    {"circular", "round"},
    {"petal", "petals"},
    {"gores", "petals"},
    {"number", "count"},
    {"conical", "cone"},
    {"funnel", "cone"},
    {"offset", "offset paraboloid"},
    {"ellipse", "ellipsoid"},
    {"hyperbola", "hyperboloid"},
    {"stl", "mesh"},
    {"spline", "fair"},
    {"linear", "straight"},
    {"units", "unit"},
    {"inch", "in"},
    {"inches", "in"},
    {"feet", "ft"},
    {"meter", "m"},
    {"metre", "m"},
    {"metres", "m"},
    {"millimetre", "mm"},
    {"millimeter", "mm"},
    {"filename", "file"},
    {"path", "file"},
};

}  // namespace

const std::vector<KeyRow>& all_keys() {
  static const std::vector<KeyRow> keys = make_keys();
  return keys;
}

const KeyRow* find_key(std::string_view section, std::string_view key, std::string_view shape) {
  for (const KeyRow& row : all_keys()) {
    if (row.section == section && row.key == key && has_shape(row, shape)) return &row;
  }
  return nullptr;
}

std::vector<std::string> keys_of(std::string_view section, std::string_view shape) {
  std::vector<std::string> keys;
  for (const KeyRow& row : all_keys()) {
    const bool there = std::find(keys.begin(), keys.end(), row.key) != keys.end();
    if (row.section == section && has_shape(row, shape) && !there) keys.emplace_back(row.key);
  }
  return keys;
}

std::vector<std::string> shapes_of(std::string_view section) {
  const KeyRow* row = find_key(section, "shape", "");
  return row == nullptr ? std::vector<std::string>{} : split_words(row->words);
}

std::vector<std::string> shapes_with(std::string_view section, std::string_view key) {
  std::vector<std::string> shapes;
  for (const std::string& shape : shapes_of(section)) {
    if (find_key(section, key, shape) != nullptr) shapes.push_back(shape);
  }
  return shapes;
}

std::vector<std::string> split_words(std::string_view list) {
  std::vector<std::string> words;
  while (!list.empty()) {
    const std::size_t comma = std::min(list.find(", "), list.size());
    words.emplace_back(list.substr(0, comma));
    list.remove_prefix(std::min(list.size(), comma + 2));
  }
  return words;
}

std::string with_article(std::string_view word) {
  if (const ShapeRow* row = find_shape_row(word)) return std::string(row->words.with_article);
  const bool vowel = !word.empty() && std::string_view("aeio").find(word.front()) != std::string_view::npos;
  return fmt::format("{} {}", vowel ? "an" : "a", word);
}

std::string join_words(const std::vector<std::string>& words, std::string_view last) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? fmt::format(" {} ", last) : ", ";
    text += words[i];
  }
  return text;
}

const Unit* unit_of_example(const KeyRow& row) {
  if (row.dimension == Dimension::length || row.example.size() < 2) return nullptr;
  const std::size_t from = row.example.find('"');
  if (from == std::string_view::npos) return nullptr;
  std::string_view example = row.example.substr(from + 1, row.example.find('"', from + 1) - from - 1);
  // The side of an angle on the earth is no part of its unit.
  for (const std::string_view side : {" N", " S", " E", " W"}) {
    if (example.ends_with(side)) example.remove_suffix(side.size());
  }
  const auto parsed = parse_quantity(example, row.dimension);
  const Quantity* quantity = std::get_if<Quantity>(&parsed);
  return quantity == nullptr ? nullptr : quantity->unit;
}

std::string interval_text(const KeyRow& row, const Unit* like) {
  const auto shown = [&](double value) {
    if (row.kind == ValueKind::whole) return grouped(value);
    return format_quantity(value, row.dimension, like);
  };
  if (row.open_low) return fmt::format("more than {} and at most {}", shown(row.low), shown(row.high));
  if (row.open_high) return fmt::format("at least {} and less than {}", shown(row.low), shown(row.high));
  return fmt::format("from {} to {}", shown(row.low), shown(row.high));
}

std::string our_word(std::string_view common) {
  for (const Pair& pair : pairs) {
    if (pair.common == common) return std::string(pair.ours);
  }
  return "";
}

}  // namespace dishwright
