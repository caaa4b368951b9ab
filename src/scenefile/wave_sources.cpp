// SPDX-License-Identifier: MIT
// [sound], [air], [radio] and [link].
#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "base/quantity.h"
#include "scenefile/parts.h"
#include "scenefile/values.h"

namespace dishwright {

namespace {

/// Frequencies, which have to be there, and the side that a far wave comes from.
template <class Waves>
void read_wave(TableReader& table, const char* why, Waves& waves) {
  if (!table.has("frequency")) table.report_missing("frequency", why);
  waves.frequencies = table.measures("frequency");
  waves.listed = table.has("frequency") && table.find("frequency")->kind == Node::Kind::list;
  waves.aim_error = table.measure_or_standard("aim_error");
  waves.aim_direction = table.measure_or_standard("aim_direction");
}

void read_from(TableReader& table, Sound& sound) {
  const Node* node = table.find("from");
  if (node == nullptr) return;
  if (node->kind != Node::Kind::text && node->kind != Node::Kind::from_set) {
    if (const auto place = table.triple("from")) sound.from = Sound::From::place, sound.place = *place;
    return;
  }
  sound.from = table.word("from").value_or("far") == "focus" ? Sound::From::target : Sound::From::far;
}

void read_voice(TableReader& table, Sound& sound) {
  const std::optional<std::string> word = table.has("voice") ? table.word("voice") : std::nullopt;
  if (!word) return;
  sound.voice = *word == "normal"   ? Voice::normal
                : *word == "raised" ? Voice::raised
                : *word == "loud"   ? Voice::loud
                                    : Voice::shout;
  if (sound.from == Sound::From::place)
    table.report("voice", fmt::format("{} does not go with a place", table.echo("voice")),
                 "the table for a voice runs over distances, and the sound comes from one place",
                 "write from = \"far\" or from = \"focus\", or take voice out");
}

void read_facing(TableReader& table, Sound& sound) {
  sound.facing = table.measure("facing");
  if (!sound.facing) return;
  if (sound.from != Sound::From::far)
    table.report("facing", fmt::format("{} does not go with {}", table.echo("facing"), table.echo("from")),
                 "of two facing dishes one has the speaker and the other the microphone", "take from out, or facing");
  if (sound.aim_error != 0)
    table.report("facing", fmt::format("{} does not go with {}", table.echo("facing"), table.echo("aim_error")),
                 "two facing dishes look straight at each other, along z", "take aim_error out, or facing");
}

Air read_air(const Node* node, bool speed_given, Scene& scene, Problems& problems) {
  static const Node empty;
  if (node != nullptr && !node->is_table()) {
    refuse_not_table(*node, problems);
    return {};
  }
  TableReader table(node != nullptr ? *node : empty, "air", "air", problems);
  table.refuse_unknown_keys();
  Air air;
  air.temperature = table.measure_or_standard("temperature");
  air.humidity = table.measure_or_standard("humidity");
  air.pressure = table.measure_or_standard("pressure");
  if (speed_given && table.has("temperature"))
    table.report("temperature", fmt::format("{} stands beside sound.speed", table.echo("temperature")),
                 "the speed of sound follows from the temperature, so one of the two is too many",
                 "take speed or temperature out");
  std::vector<std::string> skipped = {"wind"};
  if (speed_given) skipped.emplace_back("temperature");
  note_standards(table, "air", skipped, scene);
  return air;
}

std::optional<Link> read_link(const Node& node, Scene& scene, Problems& problems) {
  if (!node.is_table()) {
    refuse_not_table(node, problems);
    return std::nullopt;
  }
  TableReader table(node, "link", "link", problems);
  table.refuse_unknown_keys();
  for (const char* key : {"transmit_power", "distance", "needed"}) {
    if (!table.has(key) && !table.was_misspelt(key))
      table.report_missing(key, "a link is told by what is sent, how far, and what is needed");
  }
  const std::optional<double> watts = table.measure("transmit_power"), distance = table.measure("distance"),
                              needed = table.measure("needed");
  Link link;
  link.transmit_gain = table.measure_or_standard("transmit_gain");
  link.losses = table.measure_or_standard("losses");
  note_standards(table, "link", {}, scene);
  if (!watts || !distance || !needed) return std::nullopt;
  link.transmit_power = 10 * std::log10(*watts / 1e-3);
  link.distance = *distance, link.needed = *needed;
  return link;
}

void read_feed(const Node& node, Problems& problems, Radio& radio) {
  TableReader table(node, "feed", "radio.feed", problems);
  table.refuse_unknown_keys();
  if (!table.has("kind")) {
    if (!table.was_misspelt("kind"))
      table.report_missing("kind", "a feed is told by its power (cosine) or by its level at the rim (edge)");
    return;
  }
  const std::optional<std::string> kind = table.word("kind");
  if (!kind) return;
  const bool cosine = *kind == "cosine";
  const char *const needed = cosine ? "power" : "taper", *const stray = cosine ? "taper" : "power";
  if (table.has(stray))
    table.report(stray, fmt::format("{} is not used", table.echo(stray)),
                 fmt::format("a feed of kind {} is told by its {}", *kind, needed), fmt::format("take {} out", stray));
  if (!table.has(needed)) table.report_missing(needed, fmt::format("a feed of kind {} is told by its {}", *kind, needed));
  const std::optional<double> value = table.measure(needed);
  if (cosine) radio.feed_power = value;
  if (!cosine) radio.edge_taper = value.value_or(0);
}

}  // namespace

void read_sound(const Node& node, const Node* air, Scene& scene, Problems& problems) {
  TableReader table(node, "sound", "sound", problems);
  table.refuse_unknown_keys();
  Sound sound;
  read_wave(table, "how a mirror treats sound depends on its pitch", sound);
  sound.speed = table.measure("speed");
  read_from(table, sound);
  read_voice(table, sound);
  read_facing(table, sound);
  if (sound.from == Sound::From::place && sound.aim_error != 0)
    table.report("aim_error", fmt::format("{} is not used", table.echo("aim_error")),
                 "the sound comes from a place, and a place has its own direction", "move the place, or take aim_error out");
  std::vector<std::string> skipped = {"aim_direction"};
  if (sound.from == Sound::From::place) skipped.emplace_back("aim_error");
  note_standards(table, "sound", skipped, scene);
  sound.air = read_air(air, table.has("speed"), scene, problems);
  scene.sound = std::move(sound);
}

void read_radio(const Node& node, const Node* link, Scene& scene, Problems& problems) {
  TableReader table(node, "radio", "radio", problems);
  table.refuse_unknown_keys();
  Radio radio;
  read_wave(table, "how a mirror treats radio depends on its frequency", radio);
  if (const Node* feed = table.find("feed")) {
    if (feed->is_table()) {
      read_feed(*feed, problems, radio);
    } else {
      table.report("feed", fmt::format("{}, not a table", table.echo("feed")), "a feed has a kind, and a power or a taper",
                   table.write("feed", find_key("radio", "feed", "")->example));
    }
  }
  note_standards(table, "radio", {"aim_direction"}, scene);
  if (link != nullptr) radio.link = read_link(*link, scene, problems);
  scene.radio = std::move(radio);
}

namespace {

/// Where "focus" is for a speaker: the focus of the first mirror, in the frame. Empty where it has none.
std::optional<Vector3> focus_of_first(const FocusStandIns& stand_ins, const Reflector& mirror) {
  if (const auto own = own_focus(mirror.shape)) return mirror.pose.at + mirror.pose.turn * *own;
  const auto stand_in = stand_ins.find(mirror.name);
  return stand_in != stand_ins.end() ? std::optional(stand_in->second.at) : std::nullopt;
}

std::string inches(double metres) { return format_quantity(metres, Dimension::length, &all_units().front()); }

/// What goes with a dish that sends, and not with a speaker that the targets listen to.
void refuse_sending_keys(TableReader& table) {
  for (const char* key : {"voice", "aim_error"}) {
    const Node* node = table.find(key);
    if (node == nullptr || (std::string_view(key) == "aim_error" && table.measure(key).value_or(0) == 0)) continue;
    table.report(key, fmt::format("{} does not go with a target off the focus", table.echo(key)),
                 "the speaker stands at the focus and the target listens where it is; no wave is sent far away",
                 fmt::format("put the target at the focus, or take {} out", key));
  }
}

}  // namespace

void settle_speaker(const Node& root, const FocusStandIns& stand_ins, Scene& scene, Problems& problems) {
  if (!scene.sound || scene.sound->from != Sound::From::target || scene.targets.empty() || scene.reflectors.empty()) return;
  const Target& first = scene.targets.front();
  const Reflector& mirror = scene.reflectors.front();
  const Node* all = root.find("target");
  const Node& node = *all->find(first.name);
  TableReader target(node, "target", "target." + first.name, problems), sound(*root.find("sound"), "sound", "sound", problems);
  const bool by_name = node.find("at")->kind == Node::Kind::text || node.find("at")->kind == Node::Kind::from_set;
  const Vector3 offset = target.triple("offset").value_or(Vector3::Zero());
  double away = offset.norm();
  if (!by_name) {
    const std::optional<Vector3> focus = focus_of_first(stand_ins, mirror);
    if (!focus) {
      sound.report("from", fmt::format("{} cannot be found", sound.echo("from")),
                   fmt::format("reflector.{} is {} and has no focus of its own, or two", mirror.name,
                               with_article(shape_word(mirror.shape))),
                   "give the speaker's place, such as from = [\"0 in\", \"0 in\", \"24 in\"]");
      return;
    }
    constexpr double near = 0.05;  // of the way from vertex to focus: a target so near there is meant to be the speaker
    away = (first.pose.at - *focus).norm();
    if ((first.pose.at - offset - *focus).norm() > near * (*focus - mirror.pose.at).norm()) {
      scene.sound->from = Sound::From::place, scene.sound->place = *focus;
      scene.notes.push_back(
          fmt::format("sound.from: the speaker stands at the focus of {}, and target.{} listens {} away from it", mirror.name,
                      first.name, inches(away)));
      return refuse_sending_keys(sound);
    }
  }
  if (away > 1e-6 * rim_width(mirror.shape))
    scene.notes.push_back(
        fmt::format("sound.from: the speaker stands at target.{}, {} away from the focus", first.name, inches(away)));
}

void settle_slope_errors(const Node& root, Scene& scene, Problems& problems) {
  if (!scene.is_wave()) return;
  const bool has_light = root.find("sun") != nullptr || root.find("lamp") != nullptr;
  for (Reflector& reflector : scene.reflectors) {
    if (reflector.slope_error == 0) continue;
    const std::string key = fmt::format("reflector.{}.slope_error", reflector.name);
    if (has_light) {
      scene.notes.push_back(fmt::format("{} is left out: it counts for light only, since it has no height", key));
      reflector.slope_error = 0;
      continue;
    }
    const Node* node = root.find("reflector")->find(reflector.name)->find("slope_error");
    problems.add(node->place, fmt::format("{} says nothing about waves", echo_of(key, *node)),
                 "a slope error has no height, so nobody can tell what it does to a wave",
                 "take it out, or give a flaw with a height, such as waviness");
  }
}

}  // namespace dishwright
