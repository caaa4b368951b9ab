// SPDX-License-Identifier: MIT
// [load]: what a target heats; and what [air] says about the air round it.
#include "scene/load.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/nearest.h"
#include "base/text.h"
#include "scene/water.h"
#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

constexpr double sheet = 0.7e-3;  // thickness of a vessel that nobody weighed, common practice [m]

/// The target that is meant: by its name, else the first. Empty where that was reported.
std::optional<std::size_t> read_target(TableReader& table, const Scene& scene) {
  const std::optional<std::string> name = table.text("target");
  if (scene.targets.empty() || (table.has("target") && !name)) return std::nullopt;
  if (!name) return 0;
  std::vector<std::string> names;
  for (std::size_t k = 0; k < scene.targets.size(); ++k) {
    if (scene.targets[k].name == *name) return k;
    names.push_back(scene.targets[k].name);
  }
  const std::string near = nearest_word(*name, names);
  table.report("target", fmt::format("{} names no target", table.echo("target")), "the load stands in or is one of the targets",
               near.empty() ? fmt::format("name one of them: {}", join_words(names, "or"))
                            : table.write("target", fmt::format("\"{}\"", near)));
  return std::nullopt;
}

/// What a vessel of that shape holds [m³]; empty where it is none.
std::optional<double> room_in(const TargetShape& shape) {
  constexpr double pi = std::numbers::pi;
  if (const auto* pot = std::get_if<PotTarget>(&shape)) return pi / 4 * pot->width * pot->width * pot->height;
  if (const auto* ball = std::get_if<BallTarget>(&shape)) return pi / 6 * std::pow(ball->width, 3);
  if (const auto* tube = std::get_if<TubeTarget>(&shape)) return pi / 4 * tube->width * tube->width * tube->length;
  return std::nullopt;
}

/// Its skin [m²]; of a pot lid and all.
double skin_of(const TargetShape& shape) {
  const auto* pot = std::get_if<PotTarget>(&shape);
  return counted_area(shape) + (pot != nullptr ? std::numbers::pi / 4 * pot->width * pot->width : 0);
}

void read_amount(TableReader& table, const Stuff& stuff, Load& load) {
  const std::optional<double> mass = table.measure("mass"), volume = table.measure("volume");
  if (table.has("mass") && table.has("volume")) {
    table.report("volume", "the load has both mass and volume", "one of them says how much there is", "take one of the two out");
  } else if (!table.has("mass") && !table.has("volume")) {
    if (!table.was_misspelt("mass") && !table.was_misspelt("volume"))
      table.report_table("load has no amount", "how long it takes depends on how much there is",
                         stuff.liquid ? "add volume = \"1 L\", or mass = \"2 lb\"" : "add mass = \"2 lb\"");
  }
  load.mass = mass.value_or(volume.value_or(0) * stuff.density);
}

/// A liquid needs a vessel, and room in it.
void check_room(TableReader& table, const Stuff& stuff, const Target& target, const Load& load) {
  constexpr double slack = 1.001;
  if (!stuff.liquid || !table.sound()) return;
  const char* const amount = table.has("mass") ? "mass" : "volume";
  const std::optional<double> room = room_in(target.shape);
  if (!room) {
    table.report_table(
        fmt::format("target.{} is {} and holds no {}", target.name, with_article(shape_word(target.shape)), stuff.name),
        "a liquid stands in a pot, a ball or a tube",
        "give the target another shape, or heat something solid: stuff = \"steel\"");
  } else if (load.mass / stuff.density > slack * *room) {
    table.report(amount, fmt::format("{} does not fit into target.{}", table.echo(amount), target.name),
                 fmt::format("it holds {:.3g} L when it is full to the rim", 1000 * *room),
                 "heat less: " + table.write(amount, table.has("mass") ? fmt::format("\"{:.2g} kg\"", 0.8 * *room * stuff.density)
                                                                       : fmt::format("\"{:.2g} L\"", 800 * *room)));
  }
}

void read_vessel(TableReader& table, const Stuff& stuff, const Target& target, Load& load, Scene& scene) {
  const std::optional<std::string> word = table.word("vessel");
  const std::optional<double> mass = table.measure("vessel_mass");
  const std::string of = word.value_or(stuff.liquid || mass ? "steel" : "none");
  if (of == "none") {
    if (mass && *mass > 0)
      table.report("vessel_mass", fmt::format("{} stands beside vessel = \"none\"", table.echo("vessel_mass")),
                   "nothing weighs nothing", "name what the vessel is made of, such as vessel = \"steel\", or take it out");
    return;
  }
  load.vessel = of;
  load.vessel_mass = mass.value_or(skin_of(target.shape) * sheet * find_stuff(of)->density);
  if (!mass)
    scene.notes.push_back(
        fmt::format("load: the vessel is taken as {} sheet {:.1f} mm thick, {:.2g} kg; weigh yours and write vessel_mass", of,
                    1000 * sheet, load.vessel_mass));
}

void read_skin(TableReader& table, Load& load, Scene& scene) {
  constexpr double own_reading = 0.02;  // how well a value that somebody gives is known [1]
  const std::string word = table.word("surface").value_or(std::string(all_skins().front().name));
  const Skin& skin = *find_skin(word);
  const std::optional<double> absorptance = table.measure("absorptance"), emittance = table.measure("emittance");
  load.surface = absorptance && emittance ? "" : std::string(skin.name);
  load.absorptance = absorptance.value_or(skin.absorptance);
  load.absorptance_low = absorptance ? std::max(*absorptance - own_reading, *absorptance / 2) : skin.low;
  load.absorptance_high = absorptance ? std::min(*absorptance + own_reading, 1.0) : skin.high;
  load.emittance = emittance.value_or(skin.emittance);
  if (!load.surface.empty())
    scene.notes.push_back(fmt::format("load: {} takes in {} of sunlight ({} to {}) and radiates {} of what a black body does; {}",
                                      skin.name, skin.absorptance, skin.low, skin.high, skin.emittance, skin.source));
}

/// What [air] and, of a scene without a time, [place] say.
void read_load_air(const Node& root, bool timed, Load& load, Scene& scene, Problems& problems) {
  static const Node empty;
  const Node* node = root.find("air");
  if (node != nullptr && !node->is_table()) {
    if (!timed) refuse_not_table(*node, problems);
    return;
  }
  Problems told = problems;  // what read_outdoors() has told already
  TableReader table(node != nullptr ? *node : empty, "air", "air", timed ? told : problems);
  if (!timed) table.refuse_unknown_keys();
  load.air_temperature = table.measure_or_standard("temperature");
  const auto pressure = table.measure("pressure");
  TableReader own(node != nullptr ? *node : empty, "air", "air", problems);
  load.humidity = own.measure_or_standard("humidity");
  load.wind = own.measure_or_standard("wind");
  double altitude = 0;
  if (const Node* place = root.find("place"); place != nullptr && place->is_table() && place->find("altitude") != nullptr) {
    TableReader reader(*place, "place", "place", told);
    altitude = reader.measure("altitude").value_or(0);
  }
  load.pressure = pressure.value_or(standard_pressure(altitude));
  std::vector<std::string> skipped = {"pressure"};
  if (load.lid || !boils(load)) skipped.emplace_back("humidity");
  note_standards(table, "air", skipped, scene);
}

/// `minutes = 10`, or a time with its unit [s].
std::optional<double> read_within(TableReader& table) { return table.measure_in("minutes", "min"); }

std::string celsius(double kelvin) { return fmt::format("{:.4g} °C ({:.4g} °F)", kelvin - 273.15, 1.8 * (kelvin - 273.15) + 32); }

void read_temperatures(TableReader& table, Load& load, Scene& scene) {
  constexpr double usual_boiling = 373.15, slack = 0.6;  // 100 °C; people write 212 °F wherever they live [K]
  load.start = table.measure("start").value_or(load.air_temperature);
  if (!table.has("start"))
    scene.notes.push_back(fmt::format("load: starts at the temperature of the air, {}", celsius(load.start)));
  const double boiling = boiling_point(load.pressure);
  const std::optional<double> wanted = table.measure("wanted");
  if (!boils(load)) {
    if (!table.has("wanted") && !table.was_misspelt("wanted"))
      table.report_missing("wanted", "how long it takes depends on how hot it has to become");
    load.wanted = wanted.value_or(0);
  } else {
    load.wanted = wanted.value_or(boiling);
    if (load.wanted > std::max(boiling, usual_boiling) + slack)
      table.report("wanted", fmt::format("{} is hotter than water can be there", table.echo("wanted")),
                   fmt::format("it boils at {} under {:.4g} kPa and gets no hotter", celsius(boiling), load.pressure / 1000),
                   "take wanted out: then it is heated until it boils");
    if (load.wanted > boiling) {
      scene.notes.push_back(fmt::format("load: water boils at {} under {:.4g} kPa: that is taken as wanted", celsius(boiling),
                                        load.pressure / 1000));
      load.wanted = boiling;
    } else if (!wanted) {
      scene.notes.push_back(
          fmt::format("load: wanted is that it boils, at {} under {:.4g} kPa", celsius(boiling), load.pressure / 1000));
    }
  }
  const char* const key = table.has("start") ? "start" : "wanted";
  if (table.sound() && load.wanted <= load.start)
    table.report(key, fmt::format("{}: the load is that hot at the start", table.echo(key)),
                 fmt::format("it starts at {}, and {} is wanted", celsius(load.start), celsius(load.wanted)),
                 "make wanted higher, or start lower");
}

}  // namespace

void read_load(const Node& root, Scene& scene, Problems& problems) {
  const Node* node = root.find("load");
  if (node == nullptr) return;
  if (!node->is_table()) return refuse_not_table(*node, problems);
  TableReader table(*node, "load", "load", problems);
  table.refuse_unknown_keys();
  const Node* sun = root.find("sun");
  if (scene.is_wave() || scene.lamp || sun == nullptr || !sun->is_table()) {
    scene.notes.emplace_back("[load] is not read: it is for sunlight");
    return;
  }
  Load load;
  load.stuff = table.word("stuff").value_or("water");
  const Stuff& stuff = *find_stuff(load.stuff);
  load.lid = table.truth("lid").value_or(true);
  const bool timed = sun->find("time") != nullptr;
  read_load_air(root, timed, load, scene, problems);
  read_amount(table, stuff, load);
  const std::optional<std::size_t> target = read_target(table, scene);
  read_skin(table, load, scene);
  read_temperatures(table, load, scene);
  load.within = read_within(table);
  if (!target) return;
  load.target = *target;
  check_room(table, stuff, scene.targets[*target], load);
  read_vessel(table, stuff, scene.targets[*target], load, scene);
  const bool open = boils(load) && std::holds_alternative<PotTarget>(scene.targets[*target].shape);
  if (!load.lid && !open)
    table.report("lid", fmt::format("{} is not used", table.echo("lid")), "steam is reckoned for water in a pot only",
                 "take lid out");
  if (!table.sound()) return;
  std::vector<std::string> skipped = {"surface", "vessel"};
  if (!open) skipped.emplace_back("lid");
  note_standards(table, "load", skipped, scene);
  scene.load = load;
}

}  // namespace dishwright
