// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "report/aim/aim_report.h"
#include "report/numbers/sky_words.h"
#include "report/trace/aim_time.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

std::string whole_degrees(double radians) { return fmt::format("{:.0f}", radians * 180 / pi + 0.0); }
std::string tenths(double radians) {
  const double rounded = std::round(radians * 1800 / pi) / 10;
  return fmt::format("{:.1f}", rounded == 0 ? 0.0 : rounded);
}

bool on_axis(const AimPlan& plan) { return plan.scene.outdoors->mount.kind == MountKind::tilted_axis; }

std::string clock_or_dash(const std::optional<Moment>& moment) { return moment ? clock_text(*moment) : "-"; }

}  // namespace

double compass_azimuth(double azimuth, const Outdoors& outdoors) { return azimuth - outdoors.declination.value_or(0); }

std::string pointing_words(const AimPlan& plan) {
  const AimRow& now = plan.now;
  const Outdoors& outdoors = *plan.scene.outdoors;
  if (on_axis(plan))
    return fmt::format(
        "At {}: turn the trough {} from upright, {}. Its axis stays where it is; the sun then stands {} along it, which no turn "
        "takes "
        "away.",
        clock_text(now.time), degrees_to(std::abs(now.turn)), now.turn >= 0 ? "toward its +x side" : "toward its -x side",
        degrees_to(std::abs(now.left_over)));
  std::string out = fmt::format("At {}: the dish's axis {} up from level ({} from straight up), toward {} from true north",
                                clock_text(now.time), degrees_to(now.elevation), degrees_to(pi / 2 - now.elevation),
                                azimuth_words(now.azimuth));
  if (outdoors.declination) out += fmt::format(", {} by the compass", azimuth_words(compass_azimuth(now.azimuth, outdoors)));
  return out + ".";
}

std::string compass_words(const Outdoors& outdoors) {
  if (!outdoors.declination)
    return "Directions are from true north. A compass shows magnetic north: add the local declination (from a map; write it as "
           "declination in [place]).";
  const double degrees = *outdoors.declination * 180 / pi;
  return fmt::format("Directions are from true north; the compass column takes off the declination of {:.4g} deg {} in the file.",
                     std::abs(degrees), degrees < 0 ? "W" : "E");
}

std::vector<std::string> lasting_words(const AimPlan& plan) {
  if (!plan.re_aim)
    return {fmt::format("Aimed at the sun the {} catches none of the mirror's light: there is nothing to keep.", plan.target)};
  const ReAim& found = *plan.re_aim;
  const std::string kept = percent_text({found.kept, std::nullopt, "1"});
  std::vector<std::string> out;
  if (found.open) {
    out.push_back(fmt::format(
        "Aimed at {} and left standing, the {} keeps {} of its light for {}: as long as was tried, or until the sun sets.",
        clock_text(plan.now.time), plan.target, kept, least_time_text(found.seconds)));
    return out;
  }
  out.push_back(
      fmt::format("Aimed at {} and left standing, the {} keeps {} of its light for {} ({} of the sun's way). Then re-aim.",
                  clock_text(plan.now.time), plan.target, kept, least_time_text(found.seconds), degrees_to(found.drift)));
  const double both = found.seconds + found.before;
  const std::string ahead = found.before < 120 ? fmt::format("{:.0f} s", std::floor(found.before))
                                               : fmt::format("{:.0f} min", std::floor(found.before / 60));
  if (both >= 60)
    out.push_back(fmt::format("Aimed ahead, at where the sun will be {} from now, it lasts {}.", ahead, least_time_text(both)));
  return out;
}

std::vector<std::string> day_words(const AimPlan& plan) {
  const SunDay& day = plan.today.day;
  std::vector<std::string> out;
  if (day.never_up) return {"Polar night: the sun does not rise on that day."};
  if (day.never_down) {
    out.push_back(fmt::format("Polar day: the sun does not set. It is highest at {}, {} up.", clock_text(day.noon),
                              degrees_to(day.noon_elevation)));
  } else {
    out.push_back(fmt::format("Sunrise {}, highest at {} ({} up), sunset {}.", clock_or_dash(day.rise), clock_text(day.noon),
                              degrees_to(day.noon_elevation), clock_or_dash(day.set)));
  }
  const std::string enough =
      fmt::format("{:.0f} W/m2 of a clear sky's beam, turbidity {:.3g}", plan.enough, plan.scene.outdoors->turbidity);
  out.push_back(plan.today.from ? fmt::format("Sun enough ({}) from {} to {}.", enough, clock_text(*plan.today.from),
                                              clock_text(*plan.today.to))
                                : fmt::format("Never sun enough on that day ({}).", enough));
  return out;
}

std::vector<std::vector<std::string>> pointing_table(const AimPlan& plan) {
  const Outdoors& outdoors = *plan.scene.outdoors;
  const bool compass = outdoors.declination.has_value();
  std::vector<std::vector<std::string>> rows;
  rows.push_back({"clock", "sun up", "sun azimuth"});
  if (on_axis(plan)) {
    rows[0].insert(rows[0].end(), {"turn", "along"});
  } else {
    rows[0].insert(rows[0].end(), {"axis up", "tilt", "azimuth"});
    if (compass) rows[0].emplace_back("compass");
  }
  rows[0].emplace_back("clear beam");
  for (const AimRow& row : plan.rows) {
    std::vector<std::string> cells = {clock_text(row.time), tenths(row.sun.apparent_elevation), tenths(row.sun.azimuth)};
    const std::size_t columns = rows[0].size();
    if (!row.up) {
      cells[1] = "down";
      cells.resize(columns, "-");
    } else if (on_axis(plan)) {
      cells.insert(cells.end(), {tenths(row.turn), tenths(row.left_over), fmt::format("{:.0f}", row.clear_beam)});
    } else {
      const auto round = [](double azimuth) { return tenths(std::fmod(azimuth + 4 * pi, 2 * pi)); };
      cells.insert(cells.end(), {tenths(row.elevation), tenths(pi / 2 - row.elevation), round(row.azimuth)});
      if (compass) cells.push_back(round(compass_azimuth(row.azimuth, outdoors)));
      cells.push_back(fmt::format("{:.0f}", row.clear_beam));
    }
    rows.push_back(std::move(cells));
  }
  return rows;
}

std::vector<std::vector<std::string>> month_table(const AimPlan& plan) {
  const char* const names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  std::vector<std::vector<std::string>> rows = {{"21st of", "rise", "noon", "sun up", "set", "enough from", "to", "hours"}};
  for (std::size_t k = 0; k < plan.months.size(); ++k) {
    const SunHours& hours = plan.months[k];
    const std::string polar = hours.day.never_up ? "night" : hours.day.never_down ? "day" : "";
    rows.push_back({names[k], polar.empty() ? clock_or_dash(hours.day.rise) : polar, clock_text(hours.day.noon),
                    whole_degrees(hours.day.noon_elevation), polar.empty() ? clock_or_dash(hours.day.set) : polar,
                    clock_or_dash(hours.from), clock_or_dash(hours.to), hours.from ? fmt::format("{:.1f}", hours.hours()) : "0"});
  }
  return rows;
}

}  // namespace dishwright
