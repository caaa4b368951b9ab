// SPDX-License-Identifier: MIT
// Reflectors that were measured: a table of depths or a cloud of points.
#include <fmt/format.h>

#include "scenefile/reflector_shapes.h"
#include "survey/measured_mirror.h"
#include "survey/read_survey.h"

namespace dishwright {

namespace {

std::string inches(double metres) { return format_quantity(metres, Dimension::length, &all_units().front()); }

std::string about_inches(double metres) { return fmt::format("{:.2g} in", metres / 0.0254); }

/// Beyond the readings nothing is known; a little may be filled up.
bool wider_than_readings(TableReader& table, const char* key, double given, double reach) {
  constexpr double most = 1.25;
  if (given <= most * reach) return false;
  table.report(key, fmt::format("{} is far wider than what was measured", table.echo(key)),
               fmt::format("the readings reach {} across", inches(reach)), "check the unit of both, or measure out to the rim");
  return true;
}

void add_notes(TableReader& table, const Survey& survey, const Measured& mirror, Scene& scene) {
  const double rest = smoothed_away(survey.map);
  const std::string fine =
      rest < 0.5e-3 ? "" : fmt::format("; slope_error = \"{:.2g} mrad\" puts back what smoothing took away of it", 1e3 * rest);
  scene.notes.push_back(
      fmt::format("{}: traced as measured in {} readings about {} apart; waves and dents smaller than about {} are not in it{}",
                  table.path(), mirror.readings, about_inches(mirror.spacing), about_inches(survey.map.gap), fine));
  if (!table.has("width"))
    scene.notes.push_back(
        fmt::format("{}: taken as {} wide, as far as the readings go; width says otherwise", table.path(), inches(mirror.width)));
  if (!survey.points.under_rim && !table.has("unit") && table.text("file").value_or("").find(".csv") == std::string::npos)
    scene.notes.push_back(fmt::format("{}: the numbers of its file are taken as metres; unit says otherwise", table.path()));
  if (!survey.set_aside.empty())
    scene.notes.push_back(fmt::format("{}: {} readings that cannot be the surface were set aside; the command survey lists them",
                                      table.path(), survey.set_aside.size()));
}

}  // namespace

std::optional<ReflectorShape> read_measured(TableReader& table, const FilesBeside& files, Scene& scene) {
  MeasuredRim rim;
  rim.width = table.measure("width").value_or(0);
  rim.length = table.measure("length").value_or(0);
  rim.hole_width = table.measure_or_standard("hole_width");
  const std::optional<double> skin = table.measure("skin");
  const std::string unit = word_or_standard(table, "unit");
  const std::filesystem::path path =
      named_file(table, files.folder, "the readings of a measured mirror stand in a table of their own");
  if (path.empty() || !table.sound()) return std::nullopt;
  const auto parsed = parse_quantity("1 " + unit, Dimension::length);
  const bool trough = rim.length > 0;
  const auto make = [&] {
    SurveyFile file = read_survey(path, {skin.has_value(), skin, std::get<Quantity>(parsed).unit});
    return survey_points(std::move(file.survey), trough ? ShapeKind::trough : ShapeKind::paraboloid, false);
  };
  const auto kept = read_beside(table, files, path, [&] {
    return files.cache->get(fmt::format("measured {} {} {} {}", unit, skin.value_or(-1), trough, path.string()), make);
  });
  if (!kept) return std::nullopt;
  const std::shared_ptr<const Survey>& survey = *kept;
  const bool rectangle = trough || survey->fit().shape.kind == ShapeKind::trough;
  const Eigen::Vector2d reach = readings_reach(*survey, rectangle);
  if (wider_than_readings(table, "width", rim.width, reach.x())) return std::nullopt;
  if (rectangle && wider_than_readings(table, "length", rim.length, reach.y())) return std::nullopt;
  Measured mirror = measured_mirror(*survey, rim);
  add_notes(table, *survey, mirror, scene);
  return mirror;
}

}  // namespace dishwright
