// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "base/nearest.h"
#include "scene/materials.h"
#include "scenefile/parts.h"
#include "scenefile/shapes.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

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
  if (!table.has("finish") && !table.has("reflectance") && !scene.is_wave()) {
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
  if (scene.is_wave()) return;
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

void read_reflectors(const Node& root, const FilesBeside& files, Scene& scene, Problems& problems) {
  for (const Node* node : named_tables(root, "reflector", problems)) {
    TableReader table(*node, "reflector", "reflector." + node->name, problems);
    if (!read_shape(table, *node)) continue;
    Reflector reflector;
    reflector.name = node->name;
    const std::optional<ReflectorShape> shape = find_shape_row(table.shape())->read(table, files, scene);
    reflector.pose = read_pose(table);
    read_finish(table, reflector, scene);
    read_flaws(table, problems, reflector);
    read_wire_mesh(table, problems, scene, reflector);
    reflector.wave_reflectance = table.measure_or_standard("wave_reflectance");
    reflector.slope_error = table.measure_or_standard("slope_error");
    reflector.specular_spread = table.measure_or_standard("specular_spread");
    if (!shape || !table.sound()) continue;
    reflector.shape = *shape;
    if (auto* facets = std::get_if<Facets>(&reflector.shape)) facets->tilt_error = table.measure_or_standard("tilt_error");
    scene.reflectors.push_back(std::move(reflector));
  }
}

void seed_flaws(Scene& scene) {
  for (std::size_t k = 0; k < scene.reflectors.size(); ++k) {
    Reflector& reflector = scene.reflectors[k];
    const std::uint64_t seed = scene.trace.seed * 64 + k;
    if (auto* facets = std::get_if<Facets>(&reflector.shape)) facets->tilt_seed = seed;
    if (reflector.flaws.roughness) reflector.flaws.roughness->seed = seed;
  }
}

void aim_facets(Scene& scene) {
  for (Reflector& reflector : scene.reflectors) {
    auto* facets = std::get_if<Facets>(&reflector.shape);
    if (facets == nullptr || !facets->aim_at_target || scene.targets.empty()) continue;
    facets->aim_point = reflector.pose.turn.transpose() * (scene.targets.front().pose.at - reflector.pose.at);
  }
}

}  // namespace dishwright
