// SPDX-License-Identifier: MIT
#include "scene/scene_text.h"

#include <fmt/core.h>

#include <tuple>

namespace dishwright {

void SceneText::word(std::string_view text) { text_ += fmt::format("{}:{};", text.size(), text); }
void SceneText::number(double value) { text_ += fmt::format("{:.17g};", value + 0.0); }  // + 0.0: -0 is 0
void SceneText::numbers(std::initializer_list<double> values) {
  for (const double value : values) number(value);
}
void SceneText::whole(std::uint64_t value) { text_ += fmt::format("{};", value); }

void SceneText::pose(const Pose& pose) {
  numbers({pose.at.x(), pose.at.y(), pose.at.z()});
  for (int row = 0; row < 3; ++row) {
    for (int column = 0; column < 3; ++column) number(pose.turn(row, column));
  }
}

void SceneText::values(const std::vector<ShapeValue>& values) {
  for (const ShapeValue& value : values) {
    if (const auto* count = std::get_if<std::uint64_t>(&value)) {
      whole(*count);
    } else {
      number(std::get<double>(value));
    }
  }
}

/// A std::tie of fields.
template <class... Fields>
void SceneText::values(const std::tuple<Fields...>& fields) {
  std::apply([this](const auto&... field) { (number(static_cast<double>(field)), ...); }, fields);
}

void SceneText::shape(const ReflectorShape& shape) {
  word(shape_word(shape));
  std::visit([this](const auto& s) { values(s.values()); }, shape);
}

void SceneText::flaws(const Flaws& f) {
  if (!f.any()) return;
  numbers({f.sag_x, f.sag_y, f.twist});
  if (f.rim_sag_x != 0 || f.rim_sag_y != 0) word("rim sag"), numbers({f.rim_sag_x, f.rim_sag_y});
  if (f.waviness) numbers({f.waviness->amplitude, f.waviness->period, f.waviness->direction});
  if (f.scallop) numbers({1.0 * f.scallop->ribs, f.scallop->depth});
  for (const Dent& dent : f.dents) numbers({dent.x, dent.y, dent.width, dent.depth});
  if (f.roughness) numbers({f.roughness->rms, f.roughness->correlation}), whole(f.roughness->seed);
}

void SceneText::shape(const TargetShape& shape) {
  word(shape_word(shape));
  std::visit([this](const auto& s) { values(s.values()); }, shape);
}

void SceneText::outdoors(const Outdoors& outdoors) {
  word("outdoors");
  numbers({outdoors.site.latitude, outdoors.site.longitude, outdoors.site.altitude, outdoors.time.seconds, outdoors.air.pressure,
           outdoors.air.temperature});
  const Mount& mount = outdoors.mount;
  number(mount.kind == MountKind::tilted_axis ? 1 : 0);
  numbers({mount.aimed.value_or(outdoors.time).seconds, mount.elevation.value_or(-9), mount.azimuth.value_or(-9),
           mount.axis_azimuth, mount.axis_tilt});
}

void SceneText::lamp(const Lamp& lamp) {
  word("lamp " + shape_word(lamp.shape));
  number(lamp_size(lamp.shape));
  pose(lamp.pose);
  number(lamp.power);
  whole(lamp.in_lumens ? 1 : 0);
}

void SceneText::load(const Load& load) {
  word("load " + load.stuff);
  whole(load.target);
  word(load.vessel);
  numbers({load.mass, load.vessel_mass, load.absorptance, load.absorptance_low, load.absorptance_high, load.emittance,
           load.lid ? 1.0 : 0.0, load.start, load.wanted, load.within.value_or(-1), load.air_temperature, load.humidity,
           load.pressure, load.wind});
}

void SceneText::sound(const Sound& sound) {
  word("sound");
  whole(sound.listed ? 1 : 0);
  for (const double frequency : sound.frequencies) number(frequency);
  numbers({sound.speed.value_or(0), sound.air.temperature, sound.air.humidity, sound.air.pressure});
  whole(static_cast<std::uint64_t>(sound.from));
  numbers({sound.place.x(), sound.place.y(), sound.place.z(), sound.aim_error, sound.aim_direction});
  if (sound.facing) word("facing"), number(*sound.facing);
  if (sound.voice) word("voice"), whole(static_cast<std::uint64_t>(*sound.voice));
}

void SceneText::radio(const Radio& radio) {
  word("radio");
  whole(radio.listed ? 1 : 0);
  for (const double frequency : radio.frequencies) number(frequency);
  numbers({radio.feed_power.value_or(-1), radio.edge_taper, radio.aim_error, radio.aim_direction});
  if (!radio.link) return;
  word("link");
  numbers({radio.link->transmit_power, radio.link->transmit_gain, radio.link->distance, radio.link->losses, radio.link->needed});
}

void SceneText::target(const Target& target) {
  word(target.name);
  shape(target.shape);
  pose(target.pose);
  whole(target.shades ? 1 : 0);
}

std::string surfaces_text(const Scene& scene) {
  SceneText all;
  all.whole(scene.lamp ? 1 : 0);
  all.whole(scene.reflectors.size());
  for (const Reflector& mirror : scene.reflectors) {
    all.word(mirror.name);
    all.shape(mirror.shape);
    all.pose(mirror.pose);
    all.flaws(mirror.flaws);
  }
  for (const Target& target : scene.targets) all.target(target);
  return all.text();
}

}  // namespace dishwright
