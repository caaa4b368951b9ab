// SPDX-License-Identifier: MIT
#include "report/provenance.h"

#include <fmt/core.h>

#include <cstdint>
#include <initializer_list>
#include <string_view>
#include <type_traits>

#include "base/fingerprint.h"
#include "report/number_text.h"
#include "report/scene_words.h"

namespace dishwright {

namespace {

/// The scene's values as text that does not depend on locale, file layout or key order.
class Canonical {
 public:
  void word(std::string_view text) { text_ += fmt::format("{}:{};", text.size(), text); }
  void number(double value) { text_ += fmt::format("{:.17g};", value + 0.0); }  // + 0.0: -0 is 0
  void numbers(std::initializer_list<double> values) {
    for (const double value : values) number(value);
  }
  void whole(std::uint64_t value) { text_ += fmt::format("{};", value); }

  void pose(const Pose& pose) {
    numbers({pose.at.x(), pose.at.y(), pose.at.z()});
    for (int row = 0; row < 3; ++row) {
      for (int column = 0; column < 3; ++column) number(pose.turn(row, column));
    }
  }

  void shape(const ReflectorShape& shape) {
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

  /// Nothing for a true shape.
  void flaws(const Flaws& f) {
    if (!f.any()) return;
    numbers({f.sag_x, f.sag_y, f.twist});
    if (f.waviness) numbers({f.waviness->amplitude, f.waviness->period, f.waviness->direction});
    if (f.scallop) numbers({1.0 * f.scallop->ribs, f.scallop->depth});
    for (const Dent& dent : f.dents) numbers({dent.x, dent.y, dent.width, dent.depth});
  }

  void facets(const Facets& s) {
    numbers({s.focal_length, s.width, s.hole_width, s.tile, s.gap, s.aim_point.x(), s.aim_point.y(), s.aim_point.z()});
    whole(static_cast<std::uint64_t>(s.frame));
    whole(static_cast<std::uint64_t>(s.tile_shape));
    whole(s.aim_at_target ? 1 : 0);
    if (s.tilt_error > 0) number(s.tilt_error), whole(s.tilt_seed);
  }

  void profile(const Profile& s) {
    numbers({s.length, s.width, s.hole_width, s.trough ? 1.0 : 0.0});
    for (const ProfileCurve::Span& span : s.curve->spans()) numbers({span.from, span.to, span.c0, span.c1, span.c2, span.c3});
  }

  void shape(const TargetShape& shape) {
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

  void lamp(const Lamp& lamp) {
    word("lamp " + shape_word(lamp.shape));
    number(lamp_size(lamp.shape));
    pose(lamp.pose);
    number(lamp.power);
    whole(lamp.in_lumens ? 1 : 0);
  }

  void sound(const Sound& sound) {
    word("sound");
    whole(sound.listed ? 1 : 0);
    for (const double frequency : sound.frequencies) number(frequency);
    numbers({sound.speed.value_or(0), sound.air.temperature, sound.air.humidity, sound.air.pressure});
    whole(static_cast<std::uint64_t>(sound.from));
    numbers({sound.place.x(), sound.place.y(), sound.place.z(), sound.aim_error, sound.aim_direction});
  }

  void radio(const Radio& radio) {
    word("radio");
    whole(radio.listed ? 1 : 0);
    for (const double frequency : radio.frequencies) number(frequency);
    numbers({radio.feed_power.value_or(-1), radio.edge_taper, radio.aim_error, radio.aim_direction});
  }

  const std::string& text() const { return text_; }

 private:
  std::string text_;
};

/// Folded to 48 bits.
std::uint64_t fingerprint(const std::string& text) {
  Fingerprint print;
  print.add(text);
  return (print.value() >> 48U) ^ (print.value() & 0xFFFFFFFFFFFFU);
}

}  // namespace

std::string grouped_whole(std::uint64_t count) {
  std::string text = std::to_string(count);
  for (int at = static_cast<int>(text.size()) - 3; at > 0; at -= 3) text.insert(static_cast<std::size_t>(at), " ");
  return text;
}

std::string scene_digest(const Scene& scene) {
  Canonical all;
  all.word(scene.title);
  const Sun& sun = scene.sun;
  all.word(disc_word(sun.disc));
  all.numbers({sun.beam, sun.half_angle, sun.aureole_share, sun.aim_error, sun.aim_direction});
  if (scene.lamp) all.lamp(*scene.lamp);
  if (scene.sound) all.sound(*scene.sound);
  if (scene.radio) all.radio(*scene.radio);
  all.whole(scene.reflectors.size());
  for (const Reflector& mirror : scene.reflectors) {
    all.word(mirror.name);
    all.shape(mirror.shape);
    all.pose(mirror.pose);
    all.word(mirror.finish);
    all.numbers({mirror.reflectance, mirror.slope_error, mirror.specular_spread});
    if (scene.is_wave()) all.number(mirror.wave_reflectance);
    all.flaws(mirror.flaws);
  }
  all.whole(scene.targets.size());
  for (const Target& target : scene.targets) {
    all.word(target.name);
    all.shape(target.shape);
    all.pose(target.pose);
    all.whole(target.shades ? 1 : 0);
  }
  all.whole(scene.trace.paths);
  all.number(scene.trace.accuracy.value_or(-1));
  all.whole(scene.trace.seed);
  if (scene.trace.method != Method::rays) all.word(scene.trace.method == Method::quadrature ? "quadrature" : "auto");
  return fmt::format("{:012x}", fingerprint(all.text()));
}

std::string disc_word(DiscProfile profile) {
  switch (profile) {
    case DiscProfile::uniform: return "uniform";
    case DiscProfile::limb_darkened: return "limb-darkened";
    case DiscProfile::aureole: return "aureole";
  }
  return "";
}

namespace {

std::string light_setting(const Scene& scene) {
  if (scene.lamp) return fmt::format("{} lamp, {}", shape_word(scene.lamp->shape), lamp_power_words(*scene.lamp));
  const Sun& sun = scene.sun;
  std::string sky = fmt::format("sun {} W/m², ", exact_text(sun.beam));
  sky += sun.half_angle == 0 ? "a point"
                             : fmt::format("disc {}, half angle {}", disc_word(sun.disc), milliradians_text(sun.half_angle));
  if (sun.half_angle != 0 && sun.disc == DiscProfile::aureole)
    sky += ", aureole " + percent_text({sun.aureole_share, std::nullopt, "1"});
  sky += sun.aim_error == 0
             ? ", aimed true"
             : fmt::format(", aim off by {} toward {}", degrees_text(sun.aim_error), degrees_text(sun.aim_direction));
  return sky;
}

}  // namespace

std::string settings_line(const Scene& scene, const TraceFigures& figures, const std::string& digest) {
  if (figures.method == "quadrature") {
    return fmt::format("dishwright {} · {} places on the mirror · {} · {} · scene {}", DISHWRIGHT_VERSION,
                       grouped_whole(figures.paths), figures.method, light_setting(scene), digest);
  }
  return fmt::format("dishwright {} · seed {} · {} paths in {} replicates · {} · {} · scene {}", DISHWRIGHT_VERSION, figures.seed,
                     grouped_whole(figures.paths), figures.replicates, figures.method, light_setting(scene), digest);
}

}  // namespace dishwright
