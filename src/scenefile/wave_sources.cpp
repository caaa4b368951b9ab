// SPDX-License-Identifier: MIT
// [sound], [air], [radio] and [link].
#include <fmt/format.h>

#include <cmath>

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
  std::vector<std::string> skipped;
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
