// SPDX-License-Identifier: MIT
// Which source is traced; [sun] and [trace].
#include <fmt/format.h>

#include <algorithm>

#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

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

namespace {

constexpr std::string_view source_names[] = {"sun", "lamp", "sound", "radio"};

void read_sun(const Node& node, const Node& root, Scene& scene, Problems& problems) {
  TableReader table(node, "sun", "sun", problems);
  table.refuse_unknown_keys();
  Sun& sun = scene.sun;
  const Node* beam = table.find("beam");
  const bool clear_sky = beam != nullptr && beam->text == "clear sky";
  if (!clear_sky) sun.beam = table.measure_or_standard("beam");
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
  if (!clear_sky) skipped.emplace_back("turbidity");
  note_standards(table, "sun", skipped, scene);
  read_outdoors(table, root, clear_sky, scene, problems);
}

/// Throws unless `as` is one of the three that can be traced.
void check_as(const std::string& as) {
  if (as.empty() || as == "light" || as == "sound" || as == "radio") return;
  throw InputError(fmt::format("--as {} is not known", clipped(as, 40)), "--as says which of several sources to trace",
                   "write --as light, --as sound or --as radio, or leave it out");
}

std::vector<const Node*> sources_of(const Node& root) {
  std::vector<const Node*> found;
  for (const Node& child : root.children) {
    if (std::find(std::begin(source_names), std::end(source_names), child.name) != std::end(source_names))
      found.push_back(&child);
  }
  return found;
}

/// The word of --as that a source answers to.
std::string as_word(const Node& source) { return source.name == "sun" || source.name == "lamp" ? "light" : source.name; }

std::string names_of(const std::vector<const Node*>& sources) {
  std::vector<std::string> names;
  names.reserve(sources.size());
  for (const Node* source : sources) names.push_back(fmt::format("[{}]", source->name));
  return join_words(names, "and");
}

void report_no_source(const std::string& as, const std::vector<const Node*>& sources, Problems& problems) {
  const char* const lines[][2] = {{"sound", "[sound] and under it frequency = \"2 kHz\""},
                                  {"radio", "[radio] and under it frequency = \"1680 MHz\""},
                                  {"", "[sun] and under it beam = \"850 W/m2\""}};
  std::string fix;
  for (const auto& [word, line] : lines) {
    if (fix.empty() && (as == word || *word == 0)) fix = fmt::format("add a header {}", line);
  }
  if (sources.empty()) {
    problems.add({}, "there is no [sun], [lamp], [sound] or [radio]", "a trace needs a source", fix);
    return;
  }
  problems.add(sources.front()->key_place, fmt::format("--as {} finds nothing: the file has {}", as, names_of(sources)),
               "--as says which of the sources in the file to trace",
               fmt::format("write --as {}, or {}", as_word(*sources.front()), fix));
}

/// The sources that `as` means: one, or a sun and a lamp. Empty where there is none or a choice is missing; that is reported.
std::vector<const Node*> chosen_sources(const std::vector<const Node*>& sources, const std::string& as, Problems& problems) {
  std::vector<const Node*> chosen;
  std::vector<std::string> words;
  for (const Node* source : sources) {
    const std::string word = as_word(*source);
    if (as.empty() || word == as) chosen.push_back(source);
    if (std::find(words.begin(), words.end(), "--as " + word) == words.end()) words.push_back("--as " + word);
  }
  if (chosen.empty()) report_no_source(as, sources, problems);
  if (!as.empty() || words.size() <= 1) return chosen;
  problems.add(sources[1]->key_place, fmt::format("the file has several sources: {}", names_of(sources)),
               "one trace follows one of them", fmt::format("add {} to the command", join_words(words, "or")));
  return {};
}

/// Tables that stand beside a source which the file does not have.
void refuse_stray_tables(const Node& root, Scene& scene, Problems& problems) {
  const Node* link = root.find("link");
  if (link != nullptr && root.find("radio") == nullptr)
    problems.add(link->key_place, "[link] has no [radio] beside it", "a link is what the dish receives by radio",
                 "add [radio] with its frequency, or take [link] out");
  const Node* sun = root.find("sun");
  const bool timed = sun != nullptr && sun->is_table() && sun->find("time") != nullptr;
  if (root.find("air") != nullptr && root.find("sound") == nullptr && root.find("load") == nullptr && !timed)
    scene.notes.push_back("[air] is not read: it counts for [sound], and the file has none");
}

}  // namespace

std::vector<std::string> as_words(const Node& root) {
  std::vector<std::string> words;
  for (const Node* source : sources_of(root)) {
    if (std::find(words.begin(), words.end(), as_word(*source)) == words.end()) words.push_back(as_word(*source));
  }
  return words;
}

void read_sources(const Node& root, const std::string& as, bool misspelt, Scene& scene, Problems& problems) {
  check_as(as);
  const std::vector<const Node*> sources = sources_of(root);
  if (sources.empty() && misspelt) return;
  const std::vector<const Node*> chosen = chosen_sources(sources, as, problems);
  refuse_stray_tables(root, scene, problems);
  if (chosen.empty()) return;
  for (const Node* one : chosen) {
    if (!one->is_table()) return refuse_not_table(*one, problems);
  }
  if (chosen.size() > 1) {
    const Node* lamp = root.find("lamp");
    problems.add(lamp->key_place, "the file has a [sun] and a [lamp]", "one trace follows the light of one of them",
                 "put # before the lines of the one that is not wanted, or keep them in two files");
  }
  const std::string name = chosen.front()->name;
  for (const Node* source : sources) {
    if (std::find(chosen.begin(), chosen.end(), source) != chosen.end()) continue;
    const std::string traced =
        as_word(*chosen.front()) == "light" ? fmt::format("the light of [{}]", name) : fmt::format("[{}]", name);
    scene.notes.push_back(fmt::format("[{}] is not read: {} is traced", source->name, traced));
  }
  for (const Node* one : chosen) {
    if (one->name == "sun") read_sun(*one, root, scene, problems);
    if (one->name == "sound") read_sound(*one, root.find("air"), scene, problems);
    if (one->name == "radio") read_radio(*one, root.find("link"), scene, problems);
  }
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
  if (!scene.is_wave()) note_standards(table, "trace", skipped, scene);
}

}  // namespace dishwright
