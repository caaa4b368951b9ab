// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/heat/heat_report.h"

namespace dishwright {

namespace {

/// A curve of the plan at a time since its start [s].
double on_curve(const std::vector<double>& curve, double step, double time) {
  const double at = time / step;
  const auto k = std::min(static_cast<std::size_t>(at), curve.size() - 2);
  return curve[k] + (at - static_cast<double>(k)) * (curve[k + 1] - curve[k]);
}

std::string step_minutes(const CookingStep& step) { return fmt::format("{:.0f}-{:.0f}", step.from / 60, step.to / 60); }

}  // namespace

HeatLog compare_log(const HeatPlan& plan, DemoLog log) {
  HeatLog out;
  const Load& load = *plan.scene.load;
  out.log = std::move(log);
  out.power = cooking_power(out.log, load.mass, load.air_temperature, plan.task.boiling.value_or(1e9));
  constexpr double reading = 1;  // what a thermometer in a pot is good for [K]
  for (const LogRow& row : out.log.rows) {
    const double time = row.time - out.log.rows.front().time;
    if (time <= 0 || time > plan.step * static_cast<double>(plan.best.size() - 1)) continue;
    ++out.compared;
    if (row.temperature >= on_curve(plan.low, plan.step, time) - reading &&
        row.temperature <= on_curve(plan.high, plan.step, time) + reading)
      ++out.inside;
  }
  return out;
}

std::vector<std::string> log_words(const HeatFindings& found) {
  const HeatLog& all = *found.log;
  const CookingPower& power = all.power;
  std::vector<std::string> out;
  out.push_back(fmt::format("{} rows over {}, mean beam {:.0f} W/m². The band is drawn for its start, its mean beam{}{}.",
                            all.log.rows.size(), time_text(all.log.rows.back().time - all.log.rows.front().time),
                            all.log.mean_beam, all.log.mean_wind ? ", its mean wind" : "", all.log.mean_air ? ", its air" : ""));
  out.push_back(
      fmt::format("Measured against predicted: {} of {} rows lie within the band, give or take 1 K.", all.inside, all.compared));
  if (power.at_50) {
    std::string line = fmt::format("Cooking power by {} steps of 10 min: {:.0f} W at 700 W/m² and 50 K above the air",
                                   power.counted, *power.at_50);
    line += fmt::format(" (line {:.0f} W {} {:.2f} W/K", *power.offset, *power.slope < 0 ? "-" : "+", std::abs(*power.slope));
    out.push_back(line + (power.fit ? fmt::format(", R² {:.2f}).", *power.fit) : ")."));
  } else {
    out.push_back("Cooking power: too few steps of 10 min count for a line.");
  }
  std::string left_out;
  for (const CookingStep& step : power.steps) {
    if (!step.left_out.empty())
      left_out += fmt::format("{}{}: {}", left_out.empty() ? "" : "; ", step_minutes(step), step.left_out);
  }
  if (!left_out.empty()) out.push_back(fmt::format("Left out: {}.", left_out));
  constexpr int wanted_by_standard = 30;
  if (power.counted < wanted_by_standard)
    out.push_back(fmt::format("A rating by the standard needs {} such steps on several days; {} are here.", wanted_by_standard,
                              power.counted));
  return out;
}

std::vector<std::vector<std::string>> cooking_table(const CookingPower& power) {
  std::vector<std::vector<std::string>> rows = {
      {"minutes", "line", "power W", "beam W/m²", "water - air K", "at 700 W/m² W", "counts"}};
  for (const CookingStep& step : power.steps)
    rows.push_back({step_minutes(step), std::to_string(step.line), fmt::format("{:.0f}", step.power),
                    fmt::format("{:.0f}", step.beam), fmt::format("{:.1f}", step.difference),
                    fmt::format("{:.0f}", step.standard_power), step.left_out.empty() ? "yes" : "no"});
  return rows;
}

std::string cooking_csv(const CookingPower& power) {
  std::string out = "from [min],to [min],line,power [W],beam [W/m2],water_over_air [K],standard_power [W],left_out\n";
  for (const CookingStep& step : power.steps)
    out += fmt::format("{:.1f},{:.1f},{},{:.1f},{:.1f},{:.2f},{:.1f},{}\n", step.from / 60, step.to / 60, step.line, step.power,
                       step.beam, step.difference, step.standard_power, step.left_out);
  return out;
}

}  // namespace dishwright
