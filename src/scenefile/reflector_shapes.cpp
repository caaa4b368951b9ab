// SPDX-License-Identifier: MIT
#include "scenefile/reflector_shapes.h"

#include <fmt/format.h>

#include <cmath>

namespace dishwright {

namespace {

constexpr std::string_view parabola_law = "depth = width^2 / (16 focal_length)";

/// A parabola by any two of three: depth = width² / (16 focal_length).
struct Parabola {
  double focal_length = 0, width = 0;
};

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
                       fmt::format("two of focal_length, width and depth fix the curve of {}", with_article(table.shape())), fix);
  }
  const int read = static_cast<int>(f.has_value()) + static_cast<int>(w.has_value()) + static_cast<int>(d.has_value());
  if (given < 2 || read != given) return std::nullopt;
  if (!f) {
    check_derived(table, "focal_length", *w * *w / (16 * *d), parabola_law);
    return Parabola{*w * *w / (16 * *d), *w};
  }
  if (!w) {
    check_derived(table, "width", std::sqrt(16 * *f * *d), parabola_law);
    return Parabola{*f, std::sqrt(16 * *f * *d)};
  }
  const double depth = *w * *w / (16 * *f);
  if (!d) {
    check_derived(table, "depth", depth, parabola_law);
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

}  // namespace

void check_derived(TableReader& table, std::string_view key, double value, std::string_view law) {
  const KeyRow* row = find_key("reflector", key, table.shape());
  if (value >= row->low && value <= row->high) return;
  table.report_table(fmt::format("{} comes out as {}", table.full_key(key), format_quantity(value, Dimension::length, nullptr)),
                     fmt::format("{} may be {} ({})", key, interval_text(*row, nullptr), law),
                     "check the values that are given for a slip");
}

std::string word_or_standard(TableReader& table, std::string_view key) {
  return table.word(key).value_or(std::string(find_key("reflector", key, table.shape())->standard));
}

std::optional<ReflectorShape> read_paraboloid(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  const auto parabola = read_parabola(table);
  const double hole = table.measure_or_standard("hole_width");
  return parabola ? std::optional<ReflectorShape>(Paraboloid{parabola->focal_length, parabola->width, hole}) : std::nullopt;
}

std::optional<ReflectorShape> read_trough(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  const auto parabola = read_parabola(table);
  const double length = Needed(table)("length", "a trough has a length, along y");
  return parabola ? std::optional<ReflectorShape>(Trough{parabola->focal_length, parabola->width, length}) : std::nullopt;
}

std::optional<ReflectorShape> read_sphere(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  Needed needed(table);
  constexpr const char* why = "a sphere is given by radius and width";
  const double radius = needed("radius", why), width = needed("width", why);
  return SphereBowl{radius, width, table.measure_or_standard("hole_width")};
}

std::optional<ReflectorShape> read_arc_trough(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  Needed needed(table);
  constexpr const char* why = "an arc trough is given by radius, width and length";
  const double radius = needed("radius", why), width = needed("width", why);
  return ArcTrough{radius, width, needed("length", why)};
}

std::optional<ReflectorShape> read_flat(TableReader& table, const FilesBeside& /*files*/, Scene& /*scene*/) {
  Needed needed(table);
  constexpr const char* why = "a flat mirror is given by width and length";
  const double width = needed("width", why);
  return Flat{width, needed("length", why)};
}

}  // namespace dishwright
