// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "report/heat/heat_report.h"
#include "report/numbers/json_quantity.h"

namespace dishwright {

namespace {

Json quantity(const std::optional<double>& value, const char* unit) {
  return value ? json_quantity(Estimate{*value, std::nullopt, unit}) : Json(nullptr);
}

Json band_json(const HeatBand& band, const char* unit, double per = 1) {
  const auto scaled = [&](const std::optional<double>& value) {
    return quantity(value ? std::optional(*value / per) : std::nullopt, unit);
  };
  return {{"low", scaled(band.low)}, {"best", scaled(band.best)}, {"high", scaled(band.high)}};
}

Json span_json(const HeatRanges::Span& span, const char* unit) {
  return {{"low", quantity(span.low, unit)}, {"best", quantity(span.best, unit)}, {"high", quantity(span.high, unit)}};
}

Json load_json(const Load& load, const Scene& scene) {
  Json out;
  out["target"] = scene.targets[load.target].name;
  out["stuff"] = load.stuff;
  out["mass"] = quantity(load.mass, "kg");
  out["vessel"] = load.vessel.empty() ? Json(nullptr) : Json(load.vessel);
  out["vessel_mass"] = quantity(load.vessel_mass, "kg");
  out["surface"] = load.surface.empty() ? Json(nullptr) : Json(load.surface);
  out["absorptance"] = quantity(load.absorptance, "1");
  out["emittance"] = quantity(load.emittance, "1");
  out["lid"] = load.lid;
  out["start"] = quantity(load.start, "K");
  out["wanted"] = quantity(load.wanted, "K");
  out["air"] = {{"temperature", quantity(load.air_temperature, "K")},
                {"pressure", quantity(load.pressure, "Pa")},
                {"humidity", quantity(load.humidity, "1")},
                {"wind", quantity(load.wind, "m/s")}};
  return out;
}

Json goal_json(const HeatPlan& plan) {
  const HeatGoal& goal = plan.goal;
  Json out;
  out["minutes"] = quantity(goal.within ? std::optional(*goal.within / 60) : std::nullopt, "min");
  out["share_in_time"] = quantity(goal.in_time, "1");
  out["power_needed"] = quantity(goal.needed, "W");
  out["power"] = quantity(plan.task.absorbed, "W");
  out["width_needed"] = quantity(goal.width, "m");
  out["width"] = goal.width ? quantity(goal.width_now, "m") : Json(nullptr);
  out["holds"] = goal.holds ? Json(*goal.holds) : Json(nullptr);
  return out;
}

Json ranges_json(const HeatRanges& ranges) {
  return {{"beam", span_json(ranges.beam, "W/m2")},
          {"wind", span_json(ranges.wind, "m/s")},
          {"light_by_finish", span_json(ranges.reflected, "1")},
          {"aim_further_off", span_json(ranges.aim, "rad")},
          {"absorptance", span_json(ranges.absorptance, "1")},
          {"convection", span_json(ranges.convection, "1")}};
}

Json log_json(const HeatLog& all) {
  Json out;
  out["file"] = all.log.file;
  out["rows"] = all.log.rows.size();
  out["rows_in_band"] = all.inside;
  out["rows_compared"] = all.compared;
  out["mean_beam"] = quantity(all.log.mean_beam, "W/m2");
  out["steps"] = Json::array();
  for (const CookingStep& step : all.power.steps)
    out["steps"].push_back({{"from", quantity(step.from, "s")},
                            {"to", quantity(step.to, "s")},
                            {"line", step.line},
                            {"power", quantity(step.power, "W")},
                            {"beam", quantity(step.beam, "W/m2")},
                            {"water_over_air", quantity(step.difference, "K")},
                            {"standard_power", quantity(step.standard_power, "W")},
                            {"left_out", step.left_out.empty() ? Json(nullptr) : Json(step.left_out)}});
  out["counted"] = all.power.counted;
  out["regression"] = {{"offset", quantity(all.power.offset, "W")},
                       {"slope", quantity(all.power.slope, "W/K")},
                       {"r_squared", quantity(all.power.fit, "1")}};
  out["power_at_50_K"] = quantity(all.power.at_50, "W");
  return out;
}

}  // namespace

std::string heat_json(const HeatFindings& found, const std::string& name) {
  const HeatPlan& plan = found.plan;
  Json out = json_head(plan.scene, name);
  out["load"] = load_json(*plan.scene.load, plan.scene);
  out["power"] = json_quantity(Estimate{plan.task.absorbed, plan.power_error, "W"});
  out["power_range"] = band_json(plan.power, "W");
  out["minutes"] = band_json(plan.seconds, "min", 60);
  out["samples"] = plan.samples;
  out["never"] = plan.never;
  out["followed"] = quantity(plan.longest / 60, "min");
  out["stagnation_temperature"] = quantity(plan.stagnation.best, "K");
  out["stagnation_range"] = band_json(plan.stagnation, "K");
  out["boiling_point"] = quantity(plan.task.boiling, "K");
  out["steam"] = quantity(plan.steam, "kg/s");
  out["heat_capacity"] = quantity(plan.task.absorber.capacity, "J/K");
  out["losses"] = {{"at", quantity(plan.task.wanted, "K")},
                   {"convection", quantity(plan.at_wanted.convection, "W")},
                   {"radiation", quantity(plan.at_wanted.radiation, "W")},
                   {"steam", quantity(plan.at_wanted.steam, "W")}};
  out["ranges"] = ranges_json(plan.ranges);
  out["goal"] = goal_json(plan);
  if (found.log) out["log"] = log_json(*found.log);
  out["answer"] = heat_sentence(plan, Units::si);
  out["notes"] = plan.scene.oddities;
  for (const std::string& note : plan.scene.notes) out["notes"].push_back(note);
  return json_text(out);
}

std::string heat_csv(const HeatPlan& plan, Units units) {
  const char* const degree = units == Units::us ? "degF" : "degC";
  std::string out = fmt::format("time [min],low [{0}],best [{0}],high [{0}]\n", degree);
  const auto shown = [&](double kelvin) { return units == Units::us ? 1.8 * (kelvin - 273.15) + 32 : kelvin - 273.15; };
  for (std::size_t k = 0; k < plan.best.size(); ++k)
    out += fmt::format("{:.4g},{:.2f},{:.2f},{:.2f}\n", static_cast<double>(k) * plan.step / 60, shown(plan.low[k]),
                       shown(plan.best[k]), shown(plan.high[k]));
  return out;
}

}  // namespace dishwright
