// SPDX-License-Identifier: MIT
#include "result/scene_digest.h"

#include <fmt/core.h>

#include <cstdint>

#include "base/fingerprint.h"
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

std::string scene_digest(const Scene& scene) {
  SceneText all;
  all.word(scene.title);
  const Sun& sun = scene.sun;
  all.word(disc_word(sun.disc));
  all.numbers({sun.beam, sun.half_angle, sun.aureole_share, sun.aim_error, sun.aim_direction});
  if (scene.outdoors) all.outdoors(*scene.outdoors);
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
  if (scene.load) all.load(*scene.load);
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

}  // namespace dishwright
