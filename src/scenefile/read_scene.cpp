// SPDX-License-Identifier: MIT
#include "scenefile/read_scene.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/nearest.h"
#include "scene/check_light.h"
#include "scene/check_waves.h"
#include "scene/validate.h"
#include "scenefile/overrides.h"
#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

const std::vector<std::string>& top_names() {
  static const std::vector<std::string> names = {"title", "sun",  "place", "mount",     "lamp",   "sound", "radio",
                                                 "air",   "link", "load",  "reflector", "target", "trace"};
  return names;
}

/// Reports a key or table at the top of the file that no part reads. The names that it may have meant: missing they are the same
/// slip.
std::vector<std::string> refuse_top(const Node& node, Problems& problems) {
  const bool thing = node.is_table() && node.find("shape") != nullptr;
  const std::vector<std::string>& known = top_names();
  std::string near = our_word(node.name);
  if (std::find(known.begin(), known.end(), near) == known.end()) near = nearest_word(node.name, known);
  std::string fix =
      near.empty() ? "take it out, or put # before its lines" : fmt::format("write {}, the nearest known name", near);
  if (near.empty() && !node.is_table()) fix = "put it below the [table] header it belongs to, or take it out";
  if (thing && near.empty()) fix = fmt::format("write [reflector.{0}] for a mirror or [target.{0}] for a target", node.name);
  const std::string what = node.is_table() ? fmt::format("[{}] is not a known table", clipped(node.name, 40))
                                           : fmt::format("{} is not a known key", clipped(node.name, 40));
  problems.add(
      node.key_place, what,
      "a project file has title, one of [sun], [lamp], [sound] and [radio], perhaps [place], [mount], [air], [link] or [load], "
      "then [reflector.NAME], "
      "[target.NAME] and [trace]",
      fix);
  return thing ? std::vector<std::string>{"reflector", "target", near} : std::vector<std::string>{near};
}

std::vector<std::string> refuse_unknown(const Node& root, Problems& problems) {
  std::vector<std::string> meant;
  constexpr std::size_t enough = 1000;  // problems; a file of junk need not be searched to its end
  for (const Node& node : root.children) {
    const auto& known = top_names();
    if (std::find(known.begin(), known.end(), node.name) != known.end() || problems.count() > enough) continue;
    const std::vector<std::string> names = refuse_top(node, problems);
    meant.insert(meant.end(), names.begin(), names.end());
  }
  return meant;
}

void read_title(const Node& root, Scene& scene, Problems& problems) {
  TableReader top(root, "", "", problems);
  const std::optional<std::string> title = top.text("title");
  if (!title) return;
  constexpr int longest_title = 200;  // characters
  if (character_count(*title) > longest_title || printable(*title) != *title) {
    top.report("title", "the title cannot be printed",
               fmt::format("a title is one line of {} characters at most, without control codes", longest_title),
               "write it like title = \"Kettle dish\"");
  }
  scene.title = *title;
}

/// The node that a dotted key of validate_scene means, or the nearest table above it.
const Node* find_node(const Node& root, const std::string& key) {
  const Node* node = &root;
  for (const std::string& part : split_key(key)) {
    const Node* next = node->find(part);
    if (next == nullptr) break;
    node = next;
  }
  return node == &root ? nullptr : node;
}

/// Things that make no sense together. A missing reflector is not reported where one is there but was refused itself.
void check_whole(const Node& root, const std::vector<std::string>& meant, const Scene& scene, Problems& problems) {
  const std::size_t earlier = problems.count();
  for (SceneProblem& problem : validate_scene(scene)) {
    const Node* node = find_node(root, problem.key);
    const bool about_kind = problem.key == "reflector" || problem.key == "target";
    if (about_kind && node != nullptr && earlier > 0) continue;
    if (std::find(meant.begin(), meant.end(), problem.key) != meant.end()) continue;
    if (node != nullptr && !node->is_table()) problem.what = fmt::format("{}: {}", echo_of(problem.key, *node), problem.what);
    const Place place = node == nullptr ? Place{} : node->is_table() ? node->key_place : node->place;
    problems.add(place, problem.what, problem.why, problem.fix);
  }
}

/// Where the keys stand that the wave integral may refuse.
void note_places(const Node& root, Scene& scene, const Problems& problems) {
  if (!scene.is_wave()) return;
  const std::string section = scene.radio ? "radio" : "sound";
  const Node* table = root.find(section);
  for (const char* key : {"frequency", "feed"}) {
    const Node* node = table != nullptr ? table->find(key) : nullptr;
    if (node == nullptr) continue;
    const std::string whole = section + "." + key;
    scene.places.push_back(problems.at(node->place, fmt::format("{} = {}", whole, clipped(node->written, 60)), "", ""));
    scene.places.back().key = whole;
  }
}

/// All parts of the tree; `meant`: names that keys at the top may have meant.
Scene read_parts(const Node& root, const FilesBeside& files, const std::string& as, const FocusStandIns& stand_ins,
                 const std::vector<std::string>& meant, Problems& problems) {
  Scene scene;
  const bool source_misspelt = std::any_of(meant.begin(), meant.end(), [](const std::string& name) {
    return name == "sun" || name == "lamp" || name == "sound" || name == "radio";
  });
  read_title(root, scene, problems);
  read_sources(root, as, source_misspelt, scene, problems);
  read_reflectors(root, files, scene, problems);
  settle_slope_errors(root, scene, problems);
  read_lamp(root, stand_ins, scene, problems);
  read_targets(root, stand_ins, scene, problems);
  read_load(root, scene, problems);
  settle_speaker(root, stand_ins, scene, problems);
  aim_facets(scene);
  read_trace(root, scene, problems);
  seed_flaws(scene);
  note_places(root, scene, problems);
  return scene;
}

/// Does it make sense as a whole? What does, but is surely not meant, is noted in the scene.
void check_sense_of(const Node& root, const std::vector<std::string>& meant, Scene& scene, Problems& problems) {
  check_whole(root, meant, scene, problems);
  if (problems.count() == 0) scene.oddities = scene.is_wave() ? odd_waves(scene) : light_oddities(scene);
}

}  // namespace

Scene read_document(const Node& root, const FilesBeside& files, const std::string& as, const FocusStandIns& stand_ins,
                    Problems& problems) {
  const std::vector<std::string> meant = refuse_unknown(root, problems);
  Scene scene = read_parts(root, files, as, stand_ins, meant, problems);
  check_sense_of(root, meant, scene, problems);
  return scene;
}

ProjectFile::ProjectFile(const std::filesystem::path& path)
    : source_(read_source(path)), folder_(path.parent_path()), root_(parse_document(source_)) {}

ProjectFile::ProjectFile(const std::string& text, const std::string& file_name)
    : source_(check_source(text, file_name)),
      folder_(std::filesystem::path(file_name).parent_path()),
      root_(parse_document(source_)) {}

Node ProjectFile::document(const ReadOptions& options) const {
  Node root = root_;
  Problems problems(source_, options.set);
  apply_overrides(options.set, root, problems);
  problems.raise_if_any();
  return root;
}

Scene ProjectFile::make(const ReadOptions& options, bool checked) const {
  Node root = root_;
  Problems problems(source_, options.set);
  apply_overrides(options.set, root, problems);
  const std::vector<std::string> meant = refuse_unknown(root, problems);
  Scene scene = read_parts(root, {folder_, options.cache}, options.as, {}, meant, problems);
  if (checked) check_sense_of(root, meant, scene, problems);
  problems.raise_if_any();
  return scene;
}

Scene ProjectFile::scene(const ReadOptions& options) const { return make(options, true); }

Scene ProjectFile::scene_again(const ReadOptions& options) const { return make(options, false); }

std::vector<std::string> ProjectFile::source_words(const ReadOptions& options) const { return as_words(document(options)); }

Scene read_scene(const std::filesystem::path& path, const ReadOptions& options) { return ProjectFile(path).scene(options); }

Scene read_scene_text(const std::string& text, const std::string& file_name, const ReadOptions& options) {
  return ProjectFile(text, file_name).scene(options);
}

}  // namespace dishwright
