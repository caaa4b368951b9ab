// SPDX-License-Identifier: MIT
#include "page/clock_json.h"

#include <chrono>

#include "sky/sun_day.h"

namespace dishwright {

Json clock_json(const Scene& scene) {
  using std::chrono::sys_days;
  if (!scene.outdoors) return nullptr;
  const Outdoors& outdoors = *scene.outdoors;
  const Day day = day_of(outdoors.time);
  const std::chrono::year year(day.year);
  const std::chrono::year_month_day date(year, std::chrono::month(static_cast<unsigned>(day.month)),
                                         std::chrono::day(static_cast<unsigned>(day.day)));
  const SunDay sun = sun_day(outdoors.time, outdoors.site);
  constexpr double hour = 3600;
  const auto clock = [&](const Moment& moment) { return clock_seconds(moment, outdoors.time) / hour; };
  Json out;
  out["year"] = day.year;
  out["day"] = (sys_days(date) - sys_days(year / std::chrono::January / 1)).count() + 1;
  out["days"] = year.is_leap() ? 366 : 365;
  out["hours"] = json_number(clock(outdoors.time));
  out["offset"] = outdoors.time.offset;
  // A sun that sets behind midnight by this clock: up to the day's end.
  out["from"] = json_number(sun.rise ? std::clamp(clock(*sun.rise), 0.0, 24.0) : 0);
  out["to"] = json_number(sun.set ? std::clamp(clock(*sun.set), 0.0, 24.0) : 24);
  out["stands"] = outdoors.mount.parked() ? "parked" : outdoors.mount.aimed ? "left" : "follows";
  return out;
}

}  // namespace dishwright
