// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "heat/thin_sheet.h"
#include "report/heat/heat_report.h"
#include "report/numbers/deferral.h"
#include "report/numbers/tape_words.h"

namespace dishwright {

namespace {

constexpr double ice_point = 273.15, pound = 0.45359237;

std::string watts(double power) {
  if (power < 10) return fmt::format("{:.2g} W", power);
  return fmt::format("{:.0f} W", power < 100 ? power : std::round(power / 5) * 5);
}

std::string span_text(const HeatBand& band, const std::string& otherwise) {
  const std::string from = band.low ? time_text(*band.low) : otherwise;
  return fmt::format("{} to {}", from, band.high ? time_text(*band.high) : otherwise);
}

std::string of_ten(double share) { return fmt::format("{:.0f} of {}", share * heat_samples, heat_samples); }

}  // namespace

std::string mass_text(double mass, Units units) {
  if (units == Units::us) return exact_text(mass / pound) + " lb";
  return mass < 1 ? exact_text(1000 * mass) + " g" : exact_text(mass) + " kg";
}

std::string temperature_text(double kelvin, Units units) {
  const double celsius = kelvin - ice_point, shown = units == Units::us ? 1.8 * celsius + 32 : celsius;
  const double rounded = std::round(shown);
  return fmt::format("{:.0f} {}", rounded == 0 ? 0.0 : rounded, units == Units::us ? "°F" : "°C");
}

std::string time_text(double seconds) {
  if (seconds < 60) return fmt::format("{:.2g} s", std::max(seconds, 0.01));
  const double minutes = seconds / 60;
  if (minutes < 10) return fmt::format("{:.1f} min", minutes);
  if (minutes < 120) return fmt::format("{:.0f} min", minutes);
  return fmt::format("{:.1f} h", minutes / 60);
}

std::string wind_text(double speed, Units units) {
  constexpr double mile_an_hour = 0.44704;
  return units == Units::us ? fmt::format("{:.2g} mph", speed / mile_an_hour) : fmt::format("{:.2g} m/s", speed);
}

std::string amount_words(const Load& load, Units units) {
  const Stuff& stuff = *find_stuff(load.stuff);
  if (!stuff.liquid) return fmt::format("{} of {}", mass_text(load.mass, units), stuff.name);
  const double litres = 1000 * load.mass / stuff.density;
  std::string out = fmt::format("{:.3g} L of {}", litres, stuff.name);
  if (units == Units::us) out += fmt::format(" ({})", mass_text(load.mass, units));
  return out;
}

std::string end_words(const HeatPlan& plan, Units units) {
  if (plan.task.boiling && plan.task.wanted >= *plan.task.boiling - 1e-6) return "boils";
  return "is at " + temperature_text(plan.task.wanted, units);
}

std::string heat_sentence(const HeatPlan& plan, Units units) {
  const Load& load = *plan.scene.load;
  const std::string what = amount_words(load, units), end = end_words(plan, units), longest = time_text(plan.longest);
  if (!(plan.task.absorbed > 0))
    return fmt::format("No light reaches the {}: nothing is heated.", plan.scene.targets[load.target].name);
  if (plan.never == plan.samples)
    return fmt::format("By this model {} never {} here: with {} taken in it stays at {} or below.", what,
                       end == "boils" ? "boils" : "gets to " + temperature_text(plan.task.wanted, units),
                       watts(plan.task.absorbed), temperature_text(plan.high.back(), units));
  std::string out = plan.seconds.best
                        ? fmt::format("By this model {} {} after about {} ({} in 8 of 10 cases).", what, end,
                                      time_text(*plan.seconds.best), span_text(plan.seconds, "never"))
                        : fmt::format("By this model {} hardly {} within {}.", what,
                                      end == "boils" ? "boils" : "gets to " + temperature_text(plan.task.wanted, units), longest);
  if (plan.never > 0)
    out +=
        fmt::format(" In {} cases it does not get there within {}.", fmt::format("{} of {}", plan.never, plan.samples), longest);
  return out;
}

std::vector<std::string> goal_words(const HeatPlan& plan, Units units) {
  constexpr double widest = 5;  // times as wide: no class builds that
  const HeatGoal& goal = plan.goal;
  std::vector<std::string> out;
  const std::string end = end_words(plan, units);
  const std::string what = end == "boils" ? end : temperature_text(plan.task.wanted, units);
  const std::string asked = fmt::format("Goal, {} {}", what, goal.within ? "in " + time_text(*goal.within) : "at all");
  const std::string verdict = !goal.holds ? "too close to call" : *goal.holds ? "yes" : "no";
  out.push_back(fmt::format("{}: {}; {} cases make it.", asked, verdict, of_ten(goal.in_time)));
  if (!goal.needed) return out;
  const char* const doing = goal.within ? "do it" : "hold it there";
  out.push_back(fmt::format("{} {} must be taken in; you have {}.", goal.within ? "For that" : "To hold it there",
                            watts(*goal.needed), watts(plan.task.absorbed)));
  if (!goal.width || !(*goal.width > 0)) return out;
  if (*goal.width > widest * goal.width_now) {
    out.push_back(
        fmt::format("No mirror of that kind would {}: it would have to be more than {:.0f} times as wide. Look at aim, "
                    "place of the target and load first.",
                    doing, widest));
  } else {
    out.push_back(fmt::format("A mirror {} wide would just {} ({} is {} wide): power goes with the {} at the same share caught.",
                              tape_up(*goal.width, units), doing, plan.scene.reflectors.front().name,
                              length_text(goal.width_now, units),
                              goal.by_width ? "width, the length as it is," : "square of the width"));
  }
  return out;
}

std::vector<std::vector<std::string>> range_table(const HeatPlan& plan, Units units) {
  const HeatRanges& r = plan.ranges;
  const auto share = [](double value) { return fmt::format("{:.0f} %", 100 * value); };
  const auto beam = [](double value) { return fmt::format("{:.0f} W/m²", value); };
  const auto degrees = [](double value) { return fmt::format("{:.1f} deg", value * 57.29578); };
  std::vector<std::vector<std::string>> rows = {{"", "low", "project", "high"}};
  rows.push_back({"beam", beam(r.beam.low), beam(r.beam.best), beam(r.beam.high)});
  rows.push_back({"wind", wind_text(r.wind.low, units), wind_text(r.wind.best, units), wind_text(r.wind.high, units)});
  if (r.has_finish) rows.push_back({"light by the finish", share(r.reflected.low), share(1), share(r.reflected.high)});
  rows.push_back({"aim further off", degrees(r.aim.low), degrees(0), degrees(r.aim.high)});
  rows.push_back({"skin takes in", share(r.absorptance.low), share(r.absorptance.best), share(r.absorptance.high)});
  rows.push_back({"convection", share(r.convection.low), share(1), share(r.convection.high)});
  return rows;
}

std::vector<CardEntry> power_words(const HeatPlan& plan, Units units) {
  const std::string& name = plan.scene.targets[plan.scene.load->target].name;
  std::vector<CardEntry> out;
  out.push_back({"Light on the " + name, watts(plan.light.power + plan.light.direct)});
  out.push_back(
      {"Taken in", fmt::format("{} ({} to {})", watts(plan.task.absorbed), watts(*plan.power.low), watts(*plan.power.high))});
  const HeatLosses& lost = plan.at_wanted;
  std::string losses =
      fmt::format("{}: {} to the air, {} by radiation", watts(lost.total()), watts(lost.convection), watts(lost.radiation));
  if (lost.steam > 0) losses += fmt::format(", {} with the steam of the open pot", watts(lost.steam));
  out.push_back({"Lost at " + temperature_text(plan.task.wanted, units), losses});
  if (plan.task.boiling && plan.steam > 0)
    out.push_back({"Steam when it boils", fmt::format("{:.2g} g a minute", 60e3 * plan.steam)});
  out.push_back({find_stuff(plan.scene.load->stuff)->liquid ? "Empty and dry" : "Left in the light",
                 fmt::format("up to {} ({} to {})", temperature_text(*plan.stagnation.best, units),
                             temperature_text(*plan.stagnation.low, units), temperature_text(*plan.stagnation.high, units))});
  return out;
}

std::string thin_words(const HeatPlan& plan, Units units) {
  constexpr double smoking = 553.15;  // 280 °C: dry straw smokes, common practice, no source [K]
  const double bright = plan.figures.mirror_best ? plan.figures.mirror_best->irradiance.value : brightest(plan.figures);
  const Surroundings around = surroundings_of(*plan.scene.load);
  const auto seconds = sheet_time(dry_straw(), around, bright, smoking);
  std::string out = seconds
                        ? fmt::format("Dry straw in the brightest spot is at {}, where it smokes, after {}",
                                      temperature_text(smoking, units), *seconds < 1 ? "less than a second" : time_text(*seconds))
                        : fmt::format("Dry straw in the brightest spot gets to {}",
                                      temperature_text(sheet_temperature(dry_straw(), around, bright), units));
  // The mirror itself: a sheet that takes in what it does not reflect, of one sun, and radiates like bare metal.
  const double reflectance = plan.scene.reflectors.front().reflectance;
  ThinSheet metal;
  metal.absorptance = 1 - reflectance, metal.emittance = find_skin("bare aluminium")->emittance;
  metal.width = rim_width(plan.scene.reflectors.front().shape);
  const double warmer = sheet_temperature(metal, around, plan.scene.sun.beam) - around.temperature;
  return out + fmt::format("; the mirror itself gets {:.0f} {} warmer than the air. A rough guess by the same balance.",
                           units == Units::us ? 1.8 * warmer : warmer, units == Units::us ? "°F" : "K");
}

std::vector<std::string> heat_cautions(const HeatPlan& plan, Units units) {
  const Load& load = *plan.scene.load;
  std::vector<std::string> out;
  const bool liquid = find_stuff(load.stuff)->liquid;
  if (liquid)
    out.emplace_back(
        "Never heat a closed container: it bursts. Steam and hot vessels burn: gloves on, lift a lid away from you, cover the "
        "mirror first.");
  if (load.stuff == "cooking oil")
    out.emplace_back("Hot oil catches fire: never leave it, keep a lid at hand, never put water on it.");
  if (!liquid)
    out.push_back(fmt::format("What looks cold may be at {}: gloves on, cover the mirror first.",
                              temperature_text(plan.task.wanted, units)));
  out.push_back(fmt::format(
      "Left in the light{}, the {} gets to about {} all over, and where the spot falls far hotter: paint "
      "smokes, solder melts.",
      liquid ? " empty and dry" : "", plan.scene.targets[load.target].name, temperature_text(*plan.stagnation.best, units)));
  if (load.stuff == "water")
    out.push_back(
        fmt::format("Food is safe by a thermometer, not by this model: poultry and leftovers {}, ground meat {} (USDA chart).",
                    temperature_text(347.04, units), temperature_text(344.26, units)));
  out.push_back(fmt::format("No promise of a temperature; {}", deferral_clause));
  return out;
}

}  // namespace dishwright
