// SPDX-License-Identifier: MIT
#include "report/trace/aim_time.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "base/text.h"
#include "report/numbers/number_text.h"

namespace dishwright {

std::string least_time_text(double seconds) {
  const double minutes = seconds / 60;
  if (minutes >= 10) return fmt::format("at least {:.0f} minutes", std::floor(minutes));
  if (minutes >= 2) {
    const double halves = std::floor(2 * minutes), whole = std::floor(halves / 2);
    return fmt::format("at least {:.0f}{} minutes", whole, halves > 2 * whole ? " 1/2" : "");
  }
  if (seconds < 10) return "less than 10 seconds";
  return fmt::format("at least {:.0f} seconds", 10 * std::floor(seconds / 10));
}

std::string aim_time_words(const AimRoom& room, double kept, const std::string& target) {
  const double degrees = room.angle * 180 / std::numbers::pi, seconds = seconds_within(room);
  const std::string share = percent_text({kept, std::nullopt, "1"}), name = printable(target);
  if (room.open)
    return fmt::format("Left standing, {} keeps {} of its share for {}: as far as was tried, the sun {} deg from where it is.",
                       name, share, least_time_text(seconds), rough_text(degrees, 2));
  std::string out = fmt::format(
      "Left standing, {} keeps {} of its share for {}. The sun moves by 15 deg an hour at most, and {} deg on, in the worst "
      "way, "
      "less is left.",
      name, share, least_time_text(seconds), rough_text(degrees, 2));
  if (seconds >= 10)
    out += fmt::format(
        " Set ahead of the sun by those {} deg, so that the sun comes to where it is aimed now and goes on, it lasts twice as "
        "long.",
        rough_text(degrees, 2));
  return out;
}

}  // namespace dishwright
