// SPDX-License-Identifier: MIT
#include "report/numbers/provenance.h"

#include <fmt/core.h>

#include <cstdint>

#include "report/numbers/number_text.h"
#include "report/numbers/scene_words.h"

namespace dishwright {

std::string grouped_whole(std::uint64_t count) {
  std::string text = std::to_string(count);
  for (int at = static_cast<int>(text.size()) - 3; at > 0; at -= 3) text.insert(static_cast<std::size_t>(at), " ");
  return text;
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
  if (scene.outdoors)
    sky += fmt::format(", {}, {} up, azimuth {}", moment_text(scene.outdoors->time),
                       degrees_text(scene.outdoors->sun.apparent_elevation), degrees_text(scene.outdoors->sun.azimuth));
  return sky;
}

}  // namespace

std::string settings_line(const Scene& scene, const TraceFigures& figures, const std::string& digest, Detail detail) {
  const bool told = detail == Detail::method;
  const std::string paths = grouped_whole(figures.paths);
  std::string line = fmt::format("dishwright {}", DISHWRIGHT_VERSION);
  if (figures.method == "quadrature") {
    if (told) line += fmt::format(" · {} places on the mirror · {}", paths, figures.method);
  } else {
    line += fmt::format(" · seed {} · {} paths", figures.seed, paths);
    if (told) line += fmt::format(" in {} replicates · {}", figures.replicates, figures.method);
  }
  return line + fmt::format(" · {} · scene {}", light_setting(scene), digest);
}

}  // namespace dishwright
