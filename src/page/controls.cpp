// SPDX-License-Identifier: MIT
#include "page/controls.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/error.h"
#include "scenefile/vary.h"

namespace dishwright {

namespace {

/// A slider before it is known whether the project has its key.
struct Slider {
  std::string key, label, unit;
  double low = 0, high = 0, step = 0;  // [unit]
  bool around_own = false;             // low and high are parts of the file's own value
};

std::vector<Slider> mirror_sliders(const Reflector& mirror, bool light, const std::string& length) {
  const std::string at = "reflector." + mirror.name + ".";
  std::vector<Slider> all{{at + "focal_length", "focal length", length, 0.5, 2, 0, true},
                          {at + "radius", "radius of the curve", length, 0.6, 2, 0, true},
                          {at + "width", "width", length, 0.3, 1.5, 0, true},
                          {at + "depth", "depth", length, 0.3, 2, 0, true},
                          {at + "tile", "tile", length, 0.5, 2, 0, true},
                          {at + "count", "petals", "", 4, 48, 1}};
  if (light) {
    all.push_back({at + "slope_error", "surface error", "mrad", 0, 20, 0.1});
    all.push_back({at + "specular_spread", "haze of the skin", "mrad", 0, 10, 0.1});
  }
  return all;
}

std::vector<Slider> target_sliders(const Target& target, double width, double per_metre, const std::string& length) {
  const std::string at = "target." + target.name + ".";
  const double reach = std::ceil(width * per_metre / 8), step = length == "mm" ? 1 : 0.0625;
  return {{at + "offset.z", "target nearer or farther", length, -reach, reach, step},
          {at + "offset.x", "target aside, right", length, -reach, reach, step},
          {at + "offset.y", "target aside, up", length, -reach, reach, step},
          {at + "width", "width of the target", length, 0.25, 4, 0, true}};
}

std::vector<Slider> source_sliders(const Scene& scene) {
  if (scene.sound)
    return {{"sound.frequency", "pitch", "Hz", 0.1, 10, 0, true},
            {"sound.aim_error", "aimed off", "deg", 0, 45, 0.5},
            {"sound.aim_direction", "to which side", "deg", 0, 360, 5}};
  if (scene.radio)
    return {{"radio.frequency", "frequency", "MHz", 0.2, 5, 0, true},
            {"radio.aim_error", "aimed off", "deg", 0, 20, 0.1},
            {"radio.aim_direction", "to which side", "deg", 0, 360, 5}};
  if (scene.lamp) return {};
  return {{"sun.aim_error", "aimed off", "deg", 0, 10, 0.1}, {"sun.aim_direction", "to which side", "deg", 0, 360, 5}};
}

/// A step of one, two or five in the last digit, a hundredth of the range or so.
double even_step(double range) {
  const double rough = range / 100, ten = std::pow(10, std::floor(std::log10(rough)));
  return rough / ten < 2 ? ten : rough / ten < 5 ? 2 * ten : 5 * ten;
}

/// The file's own value of a key [SI], and how many of `unit` make one; empty where the project has no such key.
std::optional<std::pair<double, double>> own_value(const ProjectFile& file, const ReadOptions& read, const Slider& slider) {
  try {
    const std::string space = slider.unit.empty() ? "" : " " + slider.unit;
    const std::string low = slider.around_own || slider.low > 0 ? "1" : "0",
                      high = slider.around_own || slider.low > 0 ? "2" : "1";
    const std::vector<Variation> found =
        read_variations(file, read, {fmt::format("{}={}{}:{}{}:2", slider.key, low, space, high, space)});
    const Variation& one = found.front();
    if (!one.own || !std::isfinite(*one.own)) return std::nullopt;
    return std::pair(*one.own, 1 / (one.values.back() - one.values.front()));
  } catch (const InputError&) {
    return std::nullopt;
  }
}

}  // namespace

Json controls_json(const ProjectFile& file, const ReadOptions& read, const Scene& scene, Units units) {
  const std::string length = units == Units::si ? "mm" : "in";
  const double per_metre = units == Units::si ? 1000 : 1 / 0.0254;
  std::vector<Slider> all = source_sliders(scene);
  const auto add = [&](const std::vector<Slider>& more) { all.insert(all.end(), more.begin(), more.end()); };
  if (!scene.reflectors.empty()) {
    const Reflector& mirror = scene.reflectors.front();
    add(mirror_sliders(mirror, !scene.is_wave(), length));
    if (!scene.targets.empty()) add(target_sliders(scene.targets.front(), rim_width(mirror.shape), per_metre, length));
  }
  Json out = Json::array();
  for (Slider& slider : all) {
    const auto own = own_value(file, read, slider);
    if (!own) continue;
    const double value = own->first * own->second;
    if (slider.around_own) {
      if (!(value > 0)) continue;
      slider.step = even_step((slider.high - slider.low) * value);
      slider.low = std::max(slider.step, std::floor(slider.low * value / slider.step) * slider.step);
      slider.high = std::ceil(slider.high * value / slider.step) * slider.step;
    }
    if (value < slider.low || value > slider.high) continue;
    out.push_back({{"key", slider.key},
                   {"label", slider.label},
                   {"unit", slider.unit},
                   {"per_si", json_number(own->second)},
                   {"low", json_number(slider.low)},
                   {"high", json_number(slider.high)},
                   {"step", json_number(slider.step)},
                   {"own", json_number(value)}});
  }
  return out;
}

}  // namespace dishwright
