// SPDX-License-Identifier: MIT
#include "report/numbers/sky_words.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace dishwright {

namespace {
constexpr double degree = std::numbers::pi / 180;
}

std::string degrees_to(double radians, int places) { return fmt::format("{:.{}f} deg", radians / degree, places); }

std::string azimuth_words(double azimuth) {
  const char* const sides[] = {"N", "NE", "E", "SE", "S", "SW", "W", "NW"};
  double degrees = std::fmod(azimuth / degree, 360);
  if (degrees < 0) degrees += 360;
  const long whole = std::lround(degrees) % 360;
  return fmt::format("{} deg ({})", whole, sides[std::lround(degrees / 45) % 8]);
}

std::string day_and_clock(const Moment& moment) {
  return fmt::format("{} {} ({})", date_text(moment), clock_text(moment), offset_text(moment));
}

std::string standing_words(const Outdoors& outdoors) {
  const Mount& mount = outdoors.mount;
  if (mount.parked())
    return fmt::format("The mount is parked at {} up, azimuth {}.", degrees_to(*mount.elevation), azimuth_words(*mount.azimuth));
  if (!outdoors.aimed_at) return mount.follows() ? "The mount follows the sun." : "Just aimed at it.";
  const bool same_day = date_text(*mount.aimed) == date_text(outdoors.time);
  const auto clock = [&](const Moment& moment) { return same_day ? clock_text(moment) : day_and_clock(moment); };
  return fmt::format("Aimed at {}, sun at {}: {} off.", clock(Moment{mount.aimed->seconds, outdoors.time.offset}),
                     clock(outdoors.time), degrees_to(drift_angle(outdoors)));
}

std::string outdoors_words(const Outdoors& outdoors) {
  std::string out =
      fmt::format("{}: the sun stands {} up, at azimuth {}. {}", day_and_clock(outdoors.time),
                  degrees_to(outdoors.sun.apparent_elevation), azimuth_words(outdoors.sun.azimuth), standing_words(outdoors));
  if (outdoors.clear_sky) out += fmt::format(" The beam is that of a clear sky, turbidity {:.3g}.", outdoors.turbidity);
  return out;
}

Json sun_place_json(const SunPlace& sun) {
  Json out;
  const auto angle = [](double radians) { return json_quantity(Estimate{radians, std::nullopt, "rad"}); };
  out["elevation"] = angle(sun.elevation);
  out["apparent_elevation"] = angle(sun.apparent_elevation);
  out["azimuth"] = angle(sun.azimuth);
  return out;
}

Json outdoors_json(const Outdoors& outdoors) {
  Json out;
  out["time"] = moment_text(outdoors.time);
  const Json place = sun_place_json(outdoors.sun);
  out.update(place);
  if (outdoors.aimed_at) {
    out["aimed"] = moment_text(*outdoors.mount.aimed);
    out["drift"] = json_quantity(Estimate{drift_angle(outdoors), std::nullopt, "rad"});
  }
  return out;
}

}  // namespace dishwright
