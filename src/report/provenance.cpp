// SPDX-License-Identifier: MIT
#include "report/provenance.h"

#include <fmt/core.h>

#include <cstdint>

#include "base/fingerprint.h"
#include "report/number_text.h"
#include "report/scene_words.h"
#include "scene/scene_text.h"

namespace dishwright {

namespace {

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
  SceneText all;
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
    if (mirror.wire_mesh) all.numbers({mirror.wire_mesh->pitch, mirror.wire_mesh->wire});
    all.flaws(mirror.flaws);
  }
  all.whole(scene.targets.size());
  for (const Target& target : scene.targets) all.target(target);
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
