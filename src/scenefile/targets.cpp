// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>

#include "base/nearest.h"
#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

TargetShape read_target_shape(TableReader& table) {
  const auto needed = [&](std::string_view key, const char* why) {
    if (!table.has(key)) table.report_missing(key, why);
    return table.measure(key).value_or(0);
  };
  const std::string& shape = table.shape();
  if (shape == "disk") return DiskTarget{needed("width", "a disk is given by its width")};
  if (shape == "ball") return BallTarget{needed("width", "a ball is given by its width")};
  const std::string article = fmt::format("a {} is given by width and {}", shape, shape == "pot" ? "height" : "length");
  const double width = needed("width", article.c_str());
  if (shape == "pot") return PotTarget{width, needed("height", article.c_str())};
  const double length = needed("length", article.c_str());
  if (shape == "tube") return TubeTarget{width, length};
  return RectangleTarget{width, length};
}

/// "focus of NAME", "near focus of NAME", "far focus of NAME".
struct FocusWords {
  std::string which;  ///< "", "near " or "far "
  std::string name;   ///< empty where the text says something else
};

FocusWords focus_words(std::string_view text) {
  FocusWords words;
  for (const std::string_view which : {"near ", "far "}) {
    if (text.substr(0, which.size()) != which) continue;
    words.which = which;
    text.remove_prefix(which.size());
    break;
  }
  constexpr std::string_view start = "focus of ";
  if (text.substr(0, start.size()) != start) return words;
  text.remove_prefix(start.size());
  const std::size_t from = text.find_first_not_of(' ');
  if (from != std::string_view::npos) words.name = text.substr(from, text.find_last_not_of(' ') - from + 1);
  return words;
}

/// The focus that is meant, in the reflector's own frame. Empty where there is none (reported).
std::optional<Vector3> meant_focus(TableReader& table, const FocusWords& words, const ReflectorShape& shape) {
  const auto two = own_two_foci(shape);
  const std::string is = fmt::format("reflector.{} is {}", words.name, with_article(shape_word(shape)));
  if (two && words.which.empty()) {
    table.report(
        "at", fmt::format("{} can mean two places", table.echo("at")), is + " and has a near and a far focus",
        fmt::format("{} or \"far focus of {}\"", table.write("at", fmt::format("\"near focus of {}\"", words.name)), words.name));
    return std::nullopt;
  }
  if (two) return words.which == "near " ? two->first : two->second;
  std::optional<Vector3> focus = own_focus(shape);
  if (focus && words.which.empty()) return focus;
  if (focus) {
    table.report("at", fmt::format("{} cannot be found", table.echo("at")), is + " and has one focus only",
                 table.write("at", fmt::format("\"focus of {}\"", words.name)));
    return std::nullopt;
  }
  const bool flat_frame = std::holds_alternative<Facets>(shape);
  table.report("at", fmt::format("{} cannot be found", table.echo("at")),
               is + (flat_frame ? " on a flat frame and has no focus" : " and has no focus"),
               "give coordinates, such as at = [\"0 in\", \"0 in\", \"24 in\"]");
  return std::nullopt;
}

/// Sound and radio take a place without a body: a table that says where it is, and nothing of a shape.
bool is_point(const Node& node, const Scene& scene) {
  constexpr std::string_view keys[] = {"at", "offset", "turn", "shades"};
  return scene.is_wave() && std::all_of(node.children.begin(), node.children.end(), [&](const Node& child) {
           return std::find(std::begin(keys), std::end(keys), child.name) != std::end(keys);
         });
}

/// Its shape, reported where it is missing or wrong.
std::optional<TargetShape> shape_of(TableReader& table, const Node& node, const Scene& scene) {
  if (!is_point(node, scene)) return read_shape(table, node) ? std::optional(read_target_shape(table)) : std::nullopt;
  if (table.truth("shades").value_or(false))
    table.report("shades", fmt::format("{} has nothing to shade with", table.echo("shades")),
                 "a target without a shape is a point", "give it a shape, or take shades out");
  return PointTarget{};
}

std::vector<std::string> reflector_names(const Node& root) {
  std::vector<std::string> names;
  const Node* all = root.find("reflector");
  if (all == nullptr) return names;
  if (!all->is_table()) return names;
  for (const Node& child : all->children) {
    const bool stray = !child.is_table() && find_key("reflector", child.name, "") != nullptr;  // [reflector] without a name
    if (!stray) names.push_back(child.name);
  }
  return names;
}

/// The focus's pose: origin at the focus, axes of the reflector. Empty where there is none (reported, unless the reflector itself
/// was).
std::optional<Pose> pose_of_focus(TableReader& table, const FocusWords& words, const Node& root, const FocusStandIns& stand_ins,
                                  const Scene& scene) {
  const std::string& name = words.name;
  const std::vector<std::string> names = reflector_names(root);
  if (names.empty()) return std::nullopt;  // reported as a missing or broken [reflector.NAME]
  if (std::find(names.begin(), names.end(), name) == names.end()) {
    const std::string near = nearest_word(name, names);
    std::string fix = near.empty() ? "" : table.write("at", fmt::format("\"{}focus of {}\"", words.which, near));
    if (near.empty()) fix = fmt::format("name one of the reflectors: {}", join_words(names, "or"));
    table.report("at", fmt::format("{} names no reflector", table.echo("at")),
                 fmt::format("there is no [reflector.{}] in the file", clipped(name, 40)), fix);
    return std::nullopt;
  }
  const auto reflector =
      std::find_if(scene.reflectors.begin(), scene.reflectors.end(), [&](const Reflector& r) { return r.name == name; });
  if (reflector == scene.reflectors.end()) return std::nullopt;
  const auto stand_in = stand_ins.find(name);
  if (!own_focus(reflector->shape) && !own_two_foci(reflector->shape) && stand_in != stand_ins.end()) return stand_in->second;
  const std::optional<Vector3> focus = meant_focus(table, words, reflector->shape);
  if (!focus) return std::nullopt;
  return Pose{reflector->pose.at + reflector->pose.turn * *focus, reflector->pose.turn};
}

}  // namespace

std::optional<Pose> read_place(TableReader& table, const char* why_needed, const Node& root, const FocusStandIns& stand_ins,
                               const Scene& scene) {
  const Node* at = table.find("at");
  if (at == nullptr) {
    table.report_missing("at", why_needed);
    return std::nullopt;
  }
  const bool is_text = at->kind == Node::Kind::text || at->kind == Node::Kind::from_set;
  if (!is_text) {
    const auto point = table.triple("at");
    return point ? std::optional<Pose>(Pose{*point, Matrix3::Identity()}) : std::nullopt;
  }
  const FocusWords words = focus_words(at->text);
  if (!words.name.empty()) return pose_of_focus(table, words, root, stand_ins, scene);
  const std::vector<std::string> names = reflector_names(root);
  const std::string example = names.empty() ? "dish" : names.front();
  table.report(
      "at", fmt::format("{} is not a place", table.echo("at")), "a place is \"focus of NAME\", or a list of three lengths",
      fmt::format("{} or at = [\"0 in\", \"0 in\", \"24 in\"]", table.write("at", fmt::format("\"focus of {}\"", example))));
  return std::nullopt;
}

void read_targets(const Node& root, const FocusStandIns& stand_ins, Scene& scene, Problems& problems) {
  for (const Node* node : named_tables(root, "target", problems)) {
    TableReader table(*node, "target", "target." + node->name, problems);
    const std::optional<TargetShape> shape = shape_of(table, *node, scene);
    const std::optional<Pose> place =
        read_place(table, "a target has to stand somewhere: at a focus, or at coordinates", root, stand_ins, scene);
    const Vector3 offset = table.triple("offset").value_or(Vector3::Zero());
    const Vector3 angles = table.triple("turn").value_or(Vector3::Zero());
    Target target;
    target.name = node->name;
    target.shades = table.truth("shades").value_or(true);
    if (!shape || !place || !table.sound()) continue;
    target.shape = *shape;
    // offset and turn are in the axes of the reflector for a focus, of the frame for coordinates.
    target.pose.at = place->at + place->turn * offset;
    target.pose.turn = place->turn * rotation(angles[0], angles[1], angles[2]);
    scene.targets.push_back(std::move(target));
  }
}

}  // namespace dishwright
