// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <cmath>

#include "base/nearest.h"
#include "scene/materials.h"
#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

/// A parabola by any two of three: depth = width² / (16 focal_length).
struct Parabola {
  double focal_length = 0, width = 0;
};

/// A value that follows from two others has to lie in the interval of its own key, too.
void check_derived(TableReader& table, std::string_view key, double value) {
  const KeyRow* row = find_key("reflector", key, table.shape());
  if (value >= row->low && value <= row->high) return;
  table.report_table(fmt::format("{} comes out as {}", table.full_key(key), format_quantity(value, Dimension::length, nullptr)),
                     fmt::format("{} may be {} (depth = width^2 / (16 focal_length))", key, interval_text(*row, nullptr)),
                     "check the two values that are given for a slip");
}

std::optional<Parabola> read_parabola(TableReader& table) {
  const bool has_f = table.has("focal_length"), has_w = table.has("width"), has_d = table.has("depth");
  const std::optional<double> f = table.measure("focal_length"), w = table.measure("width"), d = table.measure("depth");
  const int given = static_cast<int>(has_f) + static_cast<int>(has_w) + static_cast<int>(has_d);
  const bool slip = table.was_misspelt("focal_length") || table.was_misspelt("width") || table.was_misspelt("depth");
  if (given < 2 && !slip) {
    const std::string have = has_f   ? "only focal_length"
                             : has_w ? "only width"
                             : has_d ? "only depth"
                                     : "none of focal_length, width and depth";
    const std::string fix = given == 0 ? "add width = \"48 in\" and focal_length = \"24 in\""
                            : has_w    ? "add focal_length = \"24 in\" or depth = \"6 in\""
                                       : "add width = \"48 in\"";
    table.report_table(fmt::format("{} has {}", table.path(), have),
                       fmt::format("two of focal_length, width and depth fix the curve of a {}", table.shape()), fix);
  }
  const int read = static_cast<int>(f.has_value()) + static_cast<int>(w.has_value()) + static_cast<int>(d.has_value());
  if (given < 2 || read != given) return std::nullopt;
  if (!f) {
    check_derived(table, "focal_length", *w * *w / (16 * *d));
    return Parabola{*w * *w / (16 * *d), *w};
  }
  if (!w) {
    check_derived(table, "width", std::sqrt(16 * *f * *d));
    return Parabola{*f, std::sqrt(16 * *f * *d)};
  }
  const double depth = *w * *w / (16 * *f);
  if (!d) {
    check_derived(table, "depth", depth);
    return Parabola{*f, *w};
  }
  constexpr double agreement = 1e-3;
  if (std::abs(*d - depth) > agreement * depth) {
    const auto parsed = parse_quantity(table.find("width")->text, Dimension::length);
    const std::string right = format_quantity(depth, Dimension::length, std::get<Quantity>(parsed).unit);
    table.report("depth", fmt::format("{} does not fit focal_length and width", table.echo("depth")),
                 fmt::format("width^2 / (16 focal_length) is {}", right),
                 fmt::format("{}, or take one of the three out", table.write("depth", fmt::format("\"{}\"", right))));
  }
  return Parabola{*f, *w};
}

/// Reads keys that the shape cannot do without.
class Needed {
 public:
  explicit Needed(TableReader& table) : table_(table) {}
  double operator()(std::string_view key, const char* why) {
    if (!table_.has(key)) table_.report_missing(key, why);
    return table_.measure(key).value_or(0);
  }

 private:
  TableReader& table_;
};

std::optional<ReflectorShape> read_reflector_shape(TableReader& table) {
  Needed needed(table);
  const std::string& shape = table.shape();
  if (shape == "paraboloid") {
    const auto parabola = read_parabola(table);
    const double hole = table.measure_or_standard("hole_width");
    return parabola ? std::optional<ReflectorShape>(Paraboloid{parabola->focal_length, parabola->width, hole}) : std::nullopt;
  }
  if (shape == "trough") {
    const auto parabola = read_parabola(table);
    const double length = needed("length", "a trough has a length, along y");
    return parabola ? std::optional<ReflectorShape>(Trough{parabola->focal_length, parabola->width, length}) : std::nullopt;
  }
  if (shape == "sphere") {
    const double radius = needed("radius", "a sphere is given by radius and width");
    const double width = needed("width", "a sphere is given by radius and width");
    return SphereBowl{radius, width, table.measure_or_standard("hole_width")};
  }
  if (shape == "arc trough") {
    const double radius = needed("radius", "an arc trough is given by radius, width and length");
    const double width = needed("width", "an arc trough is given by radius, width and length");
    return ArcTrough{radius, width, needed("length", "an arc trough is given by radius, width and length")};
  }
  const double width = needed("width", "a flat mirror is given by width and length");
  return Flat{width, needed("length", "a flat mirror is given by width and length")};
}

void read_finish(TableReader& table, Reflector& reflector, Scene& scene) {
  // A --set of one of the two takes the place of the other in the file.
  const Node* finish_node = table.find("finish");
  const Node* number_node = table.find("reflectance");
  const bool both = finish_node != nullptr && number_node != nullptr;
  const bool number_from_set = both && number_node->place.set > finish_node->place.set;
  const bool finish_from_set = both && finish_node->place.set > number_node->place.set;
  if (both && !number_from_set && !finish_from_set) {
    table.report("reflectance", fmt::format("{} stands beside a finish", table.echo("reflectance")),
                 "a finish sets the reflectance already", "take one of the two out");
  }
  if (const auto given = table.measure("reflectance")) reflector.reflectance = *given;
  const std::optional<std::string> name = number_from_set ? std::nullopt : table.text("finish");
  if (!table.has("finish") && !table.has("reflectance")) {
    scene.notes.push_back(
        fmt::format("{}: the mirror is taken as perfect (reflectance 1); give it a finish or a reflectance", table.path()));
  }
  if (!name) return;
  const Finish* finish = find_finish(*name);
  if (finish == nullptr) {
    std::vector<std::string> names;
    for (const Finish& row : all_finishes()) names.emplace_back(row.name);
    const std::string near = nearest_word(*name, names);
    const std::string fix = near.empty() ? "write one of these, or reflectance = 0.86 with your own number"
                                         : table.write("finish", fmt::format("\"{}\"", near));
    table.report("finish", fmt::format("{} is not in the table of finishes", table.echo("finish")),
                 fmt::format("the finishes are {}", join_words(names, "and")), fix);
    return;
  }
  reflector.finish = std::string(finish->name);
  reflector.reflectance = finish->reflectance;
  scene.notes.push_back(fmt::format("{}: {} reflects {} ({} to {}; {})", table.path(), finish->name, finish->reflectance,
                                    finish->low, finish->high, finish->source));
}

Pose read_pose(TableReader& table) {
  Pose pose;
  const Node* at = table.find("at");
  if (at != nullptr && at->kind == Node::Kind::text && at->text.rfind("focus", 0) == 0) {
    table.report("at", fmt::format("{} is for targets", table.echo("at")), "a reflector is placed by its coordinates",
                 table.write("at", "[\"0 in\", \"0 in\", \"0 in\"]"));
  } else if (const auto point = table.triple("at")) {
    pose.at = *point;
  }
  if (const auto angles = table.triple("turn")) pose.turn = rotation((*angles)[0], (*angles)[1], (*angles)[2]);
  return pose;
}

}  // namespace

void read_reflectors(const Node& root, Scene& scene, Problems& problems) {
  for (const Node* node : named_tables(root, "reflector", problems)) {
    TableReader table(*node, "reflector", "reflector." + node->name, problems);
    if (!read_shape(table, *node)) continue;
    Reflector reflector;
    reflector.name = node->name;
    const std::optional<ReflectorShape> shape = read_reflector_shape(table);
    reflector.pose = read_pose(table);
    read_finish(table, reflector, scene);
    reflector.slope_error = table.measure_or_standard("slope_error");
    reflector.specular_spread = table.measure_or_standard("specular_spread");
    if (!shape || !table.sound()) continue;
    reflector.shape = *shape;
    scene.reflectors.push_back(std::move(reflector));
  }
}

}  // namespace dishwright
