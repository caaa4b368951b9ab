// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "report/aim/aim_report.h"
#include "report/numbers/card_files.h"
#include "report/numbers/sky_words.h"
#include "report/yard/burn_report.h"

namespace dishwright {

namespace {

constexpr double pi = std::numbers::pi;

Json angle(double radians) { return json_quantity(Estimate{radians, std::nullopt, "rad"}); }
Json seconds(double value) { return json_quantity(Estimate{value, std::nullopt, "s"}); }
Json moment_json(const std::optional<Moment>& moment) { return moment ? Json(moment_text(*moment)) : Json(nullptr); }

/// How the mirror stands for one time.
Json pointing_json(const AimRow& row, const Outdoors& outdoors) {
  Json out;
  const double azimuth = std::fmod(row.azimuth + 4 * pi, 2 * pi);
  out["elevation"] = angle(row.elevation);
  out["tilt"] = angle(pi / 2 - row.elevation);
  out["azimuth"] = angle(azimuth);
  out["compass_azimuth"] =
      outdoors.declination ? angle(std::fmod(compass_azimuth(azimuth, outdoors) + 2 * pi, 2 * pi)) : Json(nullptr);
  if (outdoors.mount.kind == MountKind::tilted_axis) {
    out["turn"] = angle(row.turn);
    out["left_over"] = angle(row.left_over);
  }
  return out;
}

Json day_json(const SunHours& hours) {
  Json out;
  out["polar"] = hours.day.never_up ? Json("night") : hours.day.never_down ? Json("day") : Json(nullptr);
  out["sunrise"] = moment_json(hours.day.rise);
  out["noon"] = moment_text(hours.day.noon);
  out["noon_elevation"] = angle(hours.day.noon_elevation);
  out["sunset"] = moment_json(hours.day.set);
  out["enough_from"] = moment_json(hours.from);
  out["enough_to"] = moment_json(hours.to);
  out["enough"] = seconds(3600 * hours.hours());
  return out;
}

void add_re_aim(const AimPlan& plan, Json& out) {
  if (!plan.re_aim) {
    out["re_aim"] = out["aim_ahead"] = nullptr;
    return;
  }
  const ReAim& found = *plan.re_aim;
  out["re_aim"] = seconds(found.seconds);
  out["re_aim_open"] = found.open;
  out["aim_ahead"] = seconds(found.seconds + found.before);
  out["kept"] = json_quantity(Estimate{found.kept, std::nullopt, "1"});
  out["intercept"] = json_quantity(found.share);
  out["left"] = Json::array();
  for (const ShareLeft& one : found.by_angle)
    out["left"].push_back({{"angle", angle(one.angle)}, {"share", json_quantity(Estimate{one.left, std::nullopt, "1"})}});
}

}  // namespace

std::string aim_json(const AimPlan& plan, const std::string& name) {
  const Outdoors& outdoors = *plan.scene.outdoors;
  Json out = json_head(plan.scene, name);
  out["target"] = plan.target;
  out["time"] = moment_text(outdoors.time);
  out["sun"] = sun_place_json(plan.now.sun);
  out["clear_beam"] = json_quantity(Estimate{plan.now.clear_beam, std::nullopt, "W/m2"});
  out["mirror"] = pointing_json(plan.now, outdoors);
  add_re_aim(plan, out);
  out["enough_beam"] = json_quantity(Estimate{plan.enough, std::nullopt, "W/m2"});
  out["day"] = day_json(plan.today);
  out["months"] = Json::array();
  for (const SunHours& month : plan.months) {
    Json entry;
    entry["date"] = date_text(month.day.noon);
    entry.update(day_json(month));
    out["months"].push_back(std::move(entry));
  }
  out["table"] = Json::array();
  for (const AimRow& row : plan.rows) {
    Json entry;
    entry["time"] = moment_text(row.time);
    entry["sun"] = sun_place_json(row.sun);
    entry["mirror"] = row.up ? pointing_json(row, outdoors) : Json(nullptr);
    entry["clear_beam"] = json_quantity(Estimate{row.clear_beam, std::nullopt, "W/m2"});
    out["table"].push_back(std::move(entry));
  }
  if (plan.parked) add_burn_json(*plan.parked, out);
  out["notes"] = plan.scene.oddities;
  for (const std::string& note : plan.scene.notes) out["notes"].push_back(note);
  out["notes"].push_back(compass_words(outdoors));
  return json_text(out);
}

std::string aim_csv(const AimPlan& plan) {
  const Outdoors& outdoors = *plan.scene.outdoors;
  const bool on_axis = outdoors.mount.kind == MountKind::tilted_axis;
  std::string out =
      "time,sun_elevation [deg],sun_apparent_elevation [deg],sun_azimuth [deg],elevation [deg],tilt [deg],azimuth [deg]";
  if (outdoors.declination) out += ",compass_azimuth [deg]";
  if (on_axis) out += ",turn [deg],left_over [deg]";
  out += ",clear_beam [W/m2]\n";
  const auto degrees = [](double radians) { return fmt::format(",{:.3f}", radians * 180 / pi); };
  const auto round = [&](double radians) { return degrees(std::fmod(radians + 4 * pi, 2 * pi)); };
  for (const AimRow& row : plan.rows) {
    out += moment_text(row.time) + degrees(row.sun.elevation) + degrees(row.sun.apparent_elevation) + round(row.sun.azimuth);
    // Below the horizon there is nothing to point at.
    out += row.up ? degrees(row.elevation) + degrees(pi / 2 - row.elevation) + round(row.azimuth) : ",,,";
    if (outdoors.declination) out += row.up ? round(compass_azimuth(row.azimuth, outdoors)) : ",";
    if (on_axis) out += row.up ? degrees(row.turn) + degrees(row.left_over) : ",,";
    out += fmt::format(",{:.1f}\n", row.clear_beam);
  }
  return out;
}

std::string add_aim_outputs(const AimPlan& plan, const std::string& name, Units units, const AimSight& sight, PageSize paper,
                            WholeFiles& files) {
  files.add("aim.json", aim_json(plan, name));
  files.add("aim.csv", aim_csv(plan));
  add_printed_card(files, "aim-card", aim_card(plan, name, units, sight), paper);
  std::string told = "\nWritten into " + files.folder().string() +
                     ":\n  aim-card.pdf  the card to print at 100 %, with the sight for the shadow of a post\n";
  if (plan.parked) {
    add_printed_card(files, "burn-track", burn_card(plan, name, units), paper, true);
    told += "  burn-track.pdf, burn-track.png  where the spot runs when the dish is left, to print\n";
  }
  return told + "  aim.csv       the table\n  aim.json      all figures\n";
}

}  // namespace dishwright
