// SPDX-License-Identifier: MIT
// sun.time, [place], [mount] and [air] of a scene under the open sky.
#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "scenefile/parts.h"
#include "scenefile/values.h"
#include "sky/sun_day.h"

namespace dishwright {

namespace {

constexpr double degree = std::numbers::pi / 180;

std::string degrees(double angle) { return fmt::format("{:.1f} deg", angle / degree); }

void read_place(TableReader& table, Outdoors& outdoors) {
  table.refuse_unknown_keys();
  const char* const why = "the sun stands differently over every place";
  for (const char* key : {"latitude", "longitude"}) {
    if (!table.has(key) && !table.was_misspelt(key)) table.report_missing(key, why);
  }
  outdoors.site.latitude = table.compass_angle("latitude", 'N', 'S').value_or(0);
  outdoors.site.longitude = table.compass_angle("longitude", 'E', 'W').value_or(0);
  outdoors.site.altitude = table.measure_or_standard("altitude");
  outdoors.declination = table.compass_angle("declination", 'E', 'W');
}

void read_mount(TableReader& table, Mount& mount) {
  table.refuse_unknown_keys();
  mount.kind =
      table.word("kind").value_or("altitude-azimuth") == "tilted axis" ? MountKind::tilted_axis : MountKind::altitude_azimuth;
  mount.aimed = table.moment("aimed");
  mount.elevation = table.measure("elevation"), mount.azimuth = table.measure("azimuth");
  mount.axis_azimuth = table.measure_or_standard("axis_azimuth");
  mount.axis_tilt = table.measure_or_standard("axis_tilt");
  for (const auto& [one, other] : {std::pair{"elevation", "azimuth"}, std::pair{"azimuth", "elevation"}}) {
    if (table.has(one) && !table.has(other) && !table.was_misspelt(other))
      table.report(one, fmt::format("{} has no {} beside it", table.echo(one), other),
                   "a parked mirror is told by both, where its z axis points", table.write(other, "\"180 deg\""));
  }
  if (table.has("elevation") && table.has("aimed"))
    table.report("aimed", fmt::format("{} does not go with {}", table.echo("aimed"), table.echo("elevation")),
                 "a mirror is pointed at the sun of a time, or it is parked", "take one of the two out");
  for (const char* key : {"axis_azimuth", "axis_tilt"}) {
    if (table.has(key) && mount.kind == MountKind::altitude_azimuth)
      table.report(key, fmt::format("{} is not used", table.echo(key)), "only a tilted axis has one",
                   "write kind = \"tilted axis\", or take it out");
  }
}

/// Pressure and temperature; the humidity counts for sound only.
OpenAir read_open_air(const Node* node, double altitude, Problems& problems) {
  static const Node empty;
  OpenAir air;
  air.pressure = standard_pressure(altitude);
  if (node == nullptr || !node->is_table()) return air;
  TableReader table(*node, "air", "air", problems);
  table.refuse_unknown_keys();
  air.temperature = table.measure_or_standard("temperature");
  if (const auto pressure = table.measure("pressure")) air.pressure = *pressure;
  return air;
}

/// When there is a sun on the day of a moment.
std::string day_words(const Moment& moment, const Site& site) {
  const SunDay day = sun_day(moment, site);
  if (day.never_up)
    return fmt::format("on that day the sun does not rise there (polar night): at noon it is {} below the horizon",
                       degrees(-day.noon_elevation));
  if (day.never_down) return "on that day it does not set there (polar day)";
  const std::string rise = day.rise ? fmt::format("rises at {}", clock_text(*day.rise)) : "is up from midnight";
  const std::string set = day.set ? fmt::format("sets at {}", clock_text(*day.set)) : "stays up until midnight";
  return fmt::format("on that day it {} and {}, by the clock {}", rise, set, offset_text(moment));
}

bool check_up(TableReader& table, const char* key, const SunPlace& sun, const Moment& moment, const Site& site) {
  if (sun.apparent_elevation > 0) return true;
  const bool night = sun_day(moment, site).never_up;
  table.report(key, fmt::format("{}: the sun is below the horizon then", table.echo(key)), day_words(moment, site),
               night ? "choose another day, or another place" : "choose a time when the sun is up");
  return false;
}

/// The sun where the mirror's bright side can see it.
void check_front(TableReader& table, const Sun& sun, const Outdoors& outdoors) {
  constexpr double edge = 89.9 * degree;
  if (sun.aim_error < edge) return;
  table.report("time", fmt::format("{}: the sun stands behind the mirror", table.echo("time")),
               fmt::format("it is {} from the mirror's z axis, and {} up at azimuth {}", degrees(sun.aim_error),
                           degrees(outdoors.sun.apparent_elevation), degrees(outdoors.sun.azimuth)),
               "choose another time, or turn the mount toward the sun");
}

/// The table; one of no keys where it is left out. Null where it is something else, which is reported.
const Node* table_of(const Node& root, const char* name, Problems& problems) {
  static const Node empty;
  const Node* node = root.find(name);
  if (node == nullptr) return &empty;
  if (node->is_table()) return node;
  refuse_not_table(*node, problems);
  return nullptr;
}

/// Tables that say nothing without a time; they are read for their slips all the same.
void pass_over(const Node& root, bool clear_sky, TableReader& sun, Scene& scene, Problems& problems) {
  const char* const fix = "add time = \"2026-06-21T10:30-05:00\" below [sun], with the offset of your clock from UTC";
  Outdoors unused;
  if (const Node* node = root.find("place"); node != nullptr && node->is_table()) {
    TableReader place(*node, "place", "place", problems);
    read_place(place, unused);
    scene.notes.emplace_back(root.find("load") != nullptr && node->find("altitude") != nullptr
                                 ? "[place]: its altitude alone is read, for the pressure of the air: [sun] has no time"
                                 : "[place] is not read: [sun] has no time");
  }
  if (const Node* node = root.find("mount")) {
    if (sun.was_misspelt("time")) return;
    problems.add(node->key_place, "[mount] has no time beside it", "where the sun stands against a mount depends on the time",
                 fix);
  }
  if (clear_sky && !sun.was_misspelt("time"))
    sun.report("beam", fmt::format("{} needs a time", sun.echo("beam")),
               "the air is crossed more steeply at noon than in the evening", fix);
}

}  // namespace

void read_outdoors(TableReader& sun, const Node& root, bool clear_sky, Scene& scene, Problems& problems) {
  if (sun.has("turbidity") && !clear_sky)
    sun.report("turbidity", fmt::format("{} is not used", sun.echo("turbidity")), "the beam is given",
               "write beam = \"clear sky\", or take turbidity out");
  if (!sun.has("time")) return pass_over(root, clear_sky, sun, scene, problems);
  const std::size_t before = problems.count();
  Outdoors outdoors;
  outdoors.clear_sky = clear_sky;
  outdoors.turbidity = sun.measure_or_standard("turbidity");
  const auto time = sun.moment("time");
  if (root.find("place") == nullptr)
    sun.report("time", fmt::format("{}: there is no [place]", sun.echo("time")), "the sun stands differently over every place",
               "add a header [place] and under it latitude = \"40.5 deg N\" and longitude = \"89 deg W\", those of your yard");
  const Node *place = table_of(root, "place", problems), *mount = table_of(root, "mount", problems);
  if (place != nullptr && root.find("place") != nullptr) {
    TableReader table(*place, "place", "place", problems);
    read_place(table, outdoors);
    note_standards(table, "place", {}, scene);
  }
  static const Node empty;
  TableReader mounted(mount != nullptr ? *mount : empty, "mount", "mount", problems);
  read_mount(mounted, outdoors.mount);
  outdoors.air = read_open_air(scene.sound ? nullptr : root.find("air"), outdoors.site.altitude, problems);
  if (problems.count() > before || !sun.sound() || !time) return;
  outdoors.time = *time;
  Sun settled = scene.sun;
  settle_sun(outdoors, settled);
  if (!check_up(sun, "time", outdoors.sun, outdoors.time, outdoors.site)) return;
  if (outdoors.aimed_at && !check_up(mounted, "aimed", *outdoors.aimed_at, *outdoors.mount.aimed, outdoors.site)) return;
  check_front(sun, settled, outdoors);
  if (problems.count() > before) return;
  scene.sun = settled;
  scene.outdoors = outdoors;
}

}  // namespace dishwright
