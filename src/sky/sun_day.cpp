// SPDX-License-Identifier: MIT
#include "sky/sun_day.h"

#include <numbers>

namespace dishwright {

namespace {

constexpr double half_day = 43200;

bool is_up(const Moment& moment, const Site& site) { return airless_sun(moment.seconds, site).elevation > rise_elevation; }

/// Where the sun crosses the horizon between a moment when it is up and one when it is down.
Moment crossing(Moment up, Moment down, const Site& site) {
  while (std::abs(up.seconds - down.seconds) > 0.25) {
    const Moment middle{(up.seconds + down.seconds) / 2, up.offset};
    (is_up(middle, site) ? up : down) = middle;
  }
  return {(up.seconds + down.seconds) / 2, up.offset};
}

}  // namespace

SunDay sun_day(const Moment& moment, const Site& site) {
  SunDay day;
  day.noon = noon_on(day_of(moment), moment.offset);
  for (int k = 0; k < 3; ++k)
    day.noon.seconds -= airless_sun(day.noon.seconds, site).hour_angle / (2 * std::numbers::pi) * 2 * half_day;
  day.noon_elevation = airless_sun(day.noon.seconds, site).elevation;
  if (day.noon_elevation <= rise_elevation) {
    day.never_up = true;
    return day;
  }
  const Moment before = later(day.noon, -half_day), after = later(day.noon, half_day);
  if (!is_up(before, site)) day.rise = crossing(day.noon, before, site);
  if (!is_up(after, site)) day.set = crossing(day.noon, after, site);
  day.never_down = !day.rise && !day.set;
  return day;
}

}  // namespace dishwright
