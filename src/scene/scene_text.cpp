// SPDX-License-Identifier: MIT
#include "scene/scene_text.h"

#include <fmt/core.h>

#include <type_traits>

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

void SceneText::shape(const ReflectorShape& shape) {
  word(shape_word(shape));
  std::visit(
      [this](const auto& s) {
        using Shape = std::decay_t<decltype(s)>;
        if constexpr (std::is_same_v<Shape, Paraboloid>) numbers({s.focal_length, s.width, s.hole_width});
        if constexpr (std::is_same_v<Shape, SphereBowl>) numbers({s.radius, s.width, s.hole_width});
        if constexpr (std::is_same_v<Shape, Trough>) numbers({s.focal_length, s.width, s.length});
        if constexpr (std::is_same_v<Shape, ArcTrough>) numbers({s.radius, s.width, s.length});
        if constexpr (std::is_same_v<Shape, Flat>) numbers({s.width, s.length});
        if constexpr (std::is_same_v<Shape, Cone> || std::is_same_v<Shape, Catenary>) numbers({s.width, s.depth, s.hole_width});
        if constexpr (std::is_same_v<Shape, OffsetParaboloid>) numbers({s.focal_length, s.clearance, s.width, s.hole_width});
        if constexpr (std::is_same_v<Shape, Hyperboloid> || std::is_same_v<Shape, Ellipsoid>)
          numbers({s.near_focus, s.far_focus, s.width, s.hole_width});
        if constexpr (std::is_same_v<Shape, Petals>)
          numbers({s.focal_length, s.width, 1.0 * s.count, s.seams_on_curve ? 1.0 : 0.0, s.hole_width});
        if constexpr (std::is_same_v<Shape, Facets>) facets(s);
        if constexpr (std::is_same_v<Shape, Profile>) profile(s);
        if constexpr (std::is_same_v<Shape, Mesh>) whole(s.mesh->fingerprint), whole(s.smooth ? 1 : 0);
        if constexpr (std::is_same_v<Shape, Measured>) whole(s.fingerprint), numbers({s.width, s.length, s.hole_width});
      },
      shape);
}

void SceneText::flaws(const Flaws& f) {
  if (!f.any()) return;
  numbers({f.sag_x, f.sag_y, f.twist});
  if (f.waviness) numbers({f.waviness->amplitude, f.waviness->period, f.waviness->direction});
  if (f.scallop) numbers({1.0 * f.scallop->ribs, f.scallop->depth});
  for (const Dent& dent : f.dents) numbers({dent.x, dent.y, dent.width, dent.depth});
  if (f.roughness) numbers({f.roughness->rms, f.roughness->correlation}), whole(f.roughness->seed);
}

void SceneText::facets(const Facets& s) {
  numbers({s.focal_length, s.width, s.hole_width, s.tile, s.gap, s.aim_point.x(), s.aim_point.y(), s.aim_point.z()});
  whole(static_cast<std::uint64_t>(s.frame));
  whole(static_cast<std::uint64_t>(s.tile_shape));
  whole(s.aim_at_target ? 1 : 0);
  if (s.tilt_error > 0) number(s.tilt_error), whole(s.tilt_seed);
}

void SceneText::profile(const Profile& s) {
  numbers({s.length, s.width, s.hole_width, s.trough ? 1.0 : 0.0});
  for (const ProfileCurve::Span& span : s.curve->spans()) numbers({span.from, span.to, span.c0, span.c1, span.c2, span.c3});
}

void SceneText::shape(const TargetShape& shape) {
  word(shape_word(shape));
  std::visit(
      [this](const auto& s) {
        using Shape = std::decay_t<decltype(s)>;
        number(s.width);
        if constexpr (std::is_same_v<Shape, RectangleTarget> || std::is_same_v<Shape, TubeTarget>) number(s.length);
        if constexpr (std::is_same_v<Shape, PotTarget>) number(s.height);
      },
      shape);
}

void SceneText::lamp(const Lamp& lamp) {
  word("lamp " + shape_word(lamp.shape));
  number(lamp_size(lamp.shape));
  pose(lamp.pose);
  number(lamp.power);
  whole(lamp.in_lumens ? 1 : 0);
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
