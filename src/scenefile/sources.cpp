// SPDX-License-Identifier: MIT
// What shines on the mirrors, and how it is traced: [sun] and [trace].
#include <fmt/format.h>

#include <algorithm>

#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

constexpr std::string_view source_names[] = {"sun", "lamp", "sound", "radio"};

/// Says which standard values were taken for keys that the table leaves out.
void note_standards(const TableReader& table, const std::string& section, const std::vector<std::string>& skipped, Scene& scene) {
  std::string list;
  for (const KeyRow& row : all_keys()) {
    const bool skip = std::find(skipped.begin(), skipped.end(), row.key) != skipped.end();
    if (row.section != section || row.standard.empty() || skip || table.has(row.key)) continue;
    list += fmt::format("{}{} = {}", list.empty() ? "" : ", ", row.key, row.standard);
  }
  if (!list.empty()) scene.notes.push_back(fmt::format("{}: standard values taken for {}", section, list));
}

void refuse_not_table(const Node& node, Problems& problems) {
  const std::string what = node.table_list ? fmt::format("[[{}]] has two brackets", node.name)
                                           : fmt::format("{} is {}, not a table", echo_of(node.name, node), node.kind_word());
  problems.add(node.place, what, fmt::format("{} is one table with keys", node.name),
               fmt::format("write a header [{}] and its keys below it", node.name));
}

void read_sun(const Node& node, Scene& scene, Problems& problems) {
  TableReader table(node, "sun", "sun", problems);
  table.refuse_unknown_keys();
  Sun& sun = scene.sun;
  sun.beam = table.measure_or_standard("beam");
  const std::string disc = table.word("disc").value_or("limb-darkened");
  sun.disc = disc == "uniform" ? DiscProfile::uniform : disc == "aureole" ? DiscProfile::aureole : DiscProfile::limb_darkened;
  sun.half_angle = table.measure_or_standard("half_angle");
  sun.aureole_share = table.measure_or_standard("aureole_share");
  sun.aim_error = table.measure_or_standard("aim_error");
  sun.aim_direction = table.measure_or_standard("aim_direction");
  if (table.has("aureole_share") && sun.disc != DiscProfile::aureole) {
    table.report("aureole_share", fmt::format("{} is not used", table.echo("aureole_share")),
                 fmt::format("with disc = \"{}\" there is no glow around the sun", disc),
                 "write disc = \"aureole\", or take aureole_share out");
  }
  std::vector<std::string> skipped;
  if (sun.disc != DiscProfile::aureole) skipped.emplace_back("aureole_share");
  if (!table.has("aim_error")) skipped.emplace_back("aim_direction");
  note_standards(table, "sun", skipped, scene);
}

/// Throws unless `as` asks for light.
void check_as(const std::string& as) {
  if (as.empty() || as == "light") return;
  if (as == "sound" || as == "radio") {
    throw InputError(fmt::format("--as {} cannot be traced", as), "this version traces light from [sun] or [lamp]",
                     "leave --as out, or write --as light");
  }
  throw InputError(fmt::format("--as {} is not known", clipped(as, 40)),
                   "--as says which of several sources to trace; this version traces light",
                   "leave --as out, or write --as light");
}

std::vector<const Node*> sources_of(const Node& root) {
  std::vector<const Node*> found;
  for (const Node& child : root.children) {
    if (std::find(std::begin(source_names), std::end(source_names), child.name) != std::end(source_names))
      found.push_back(&child);
  }
  return found;
}

}  // namespace

void read_sources(const Node& root, const std::string& as, bool misspelt, Scene& scene, Problems& problems) {
  check_as(as);
  const std::vector<const Node*> sources = sources_of(root);
  const Node *sun = root.find("sun"), *lamp = root.find("lamp");
  const Node* light = sun != nullptr ? sun : lamp;
  std::vector<std::string> names;
  names.reserve(sources.size());
  for (const Node* source : sources) names.push_back(fmt::format("[{}]", source->name));
  if (light == nullptr) {
    if (sources.empty() && misspelt) return;
    const Place place = sources.empty() ? Place{} : sources.front()->key_place;
    const std::string what =
        sources.empty() ? "there is no [sun] and no [lamp]" : fmt::format("{} cannot be traced", join_words(names, "and"));
    problems.add(place, what,
                 sources.empty() ? "a trace needs a source of light" : "this version traces light from [sun] or [lamp]",
                 "add a header [sun] and under it beam = \"850 W/m2\"");
    return;
  }
  for (const Node* one : {sun, lamp}) {
    if (one != nullptr && !one->is_table()) return refuse_not_table(*one, problems);
  }
  if (sun != nullptr && lamp != nullptr) {
    problems.add(lamp->key_place, "the file has a [sun] and a [lamp]", "one trace follows the light of one of them",
                 "put # before the lines of the one that is not wanted, or keep them in two files");
  } else if (sources.size() > 1 && as.empty()) {
    problems.add(sources[1]->key_place, fmt::format("the file has several sources: {}", join_words(names, "and")),
                 "one trace follows one of them",
                 fmt::format("add --as light to the command to trace the light of [{}]", light->name));
  }
  for (const Node* source : sources) {
    if (source == sun || source == lamp) continue;
    scene.notes.push_back(fmt::format("[{}] is not read: the light of [{}] is traced", source->name, light->name));
  }
  if (sun != nullptr) read_sun(*sun, scene, problems);
}

void read_trace(const Node& root, Scene& scene, Problems& problems) {
  static const Node empty;
  const Node* node = root.find("trace");
  if (node != nullptr && !node->is_table()) return refuse_not_table(*node, problems);
  TableReader table(node != nullptr ? *node : empty, "trace", "trace", problems);
  table.refuse_unknown_keys();
  if (const auto paths = table.whole("paths")) scene.trace.paths = *paths;
  if (const auto seed = table.whole("seed")) scene.trace.seed = *seed;
  scene.trace.accuracy = table.measure("accuracy");
  const std::string method = table.word("method").value_or("rays");
  scene.trace.method = method == "quadrature" ? Method::quadrature : method == "auto" ? Method::automatic : Method::rays;
  std::vector<std::string> skipped = {"method"};
  if (scene.trace.accuracy) skipped.emplace_back("paths");
  if (scene.trace.accuracy && table.has("paths"))
    scene.notes.push_back("trace: paths is passed over, because accuracy chooses the number of paths");
  note_standards(table, "trace", skipped, scene);
}

}  // namespace dishwright
