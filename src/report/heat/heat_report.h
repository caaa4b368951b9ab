// SPDX-License-Identifier: MIT
// How long a dish takes to heat its load, as text, JSON, table, chart and a card to print.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "heat/demo_log.h"
#include "picture/work_card.h"
#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "study/heat_plan.h"

namespace dishwright {

/// A log beside the plan, which was made for its start, beam, wind and air.
struct HeatLog {
  DemoLog log;
  CookingPower power;
  int inside = 0, compared = 0;  ///< rows within the band, of those within its time
};
/// Counts the rows within the band of the plan.
HeatLog compare_log(const HeatPlan& plan, DemoLog log);

struct HeatFindings {
  HeatPlan plan;
  std::optional<HeatLog> log;
};

// ---- Words ----
/// "212 °F", "100 °C" of a temperature [K]; no decimals.
std::string temperature_text(double kelvin, Units units);
/// "2.2 lb", "998 g" of a mass [kg].
std::string mass_text(double mass, Units units);
/// "7.4 min", "45 s", "3.2 h" of a time [s].
std::string time_text(double seconds);
/// "4.5 mph", "2 m/s" of a speed [m/s].
std::string wind_text(double speed, Units units);
/// "1 L of water", "2.2 lb of steel".
std::string amount_words(const Load& load, Units units);
/// "boils", "is at 350 °F": what is wanted.
std::string end_words(const HeatPlan& plan, Units units);
/// "1 L of water boils after about 7.4 min (6.3 to 9.1 min)": the answer in a sentence or two.
std::string heat_sentence(const HeatPlan& plan, Units units);
/// What the goal asks, what the project has, how wide a mirror would do.
std::vector<std::string> goal_words(const HeatPlan& plan, Units units);
/// Head and rows: what the band is drawn over.
std::vector<std::vector<std::string>> range_table(const HeatPlan& plan, Units units);
/// Where the power goes.
std::vector<CardEntry> power_words(const HeatPlan& plan, Units units);
/// What the brightest spot does to thin things, and the bare metal of the mirror.
std::string thin_words(const HeatPlan& plan, Units units);
/// What can hurt here besides the light.
std::vector<std::string> heat_cautions(const HeatPlan& plan, Units units);
/// Log against model, cooking power.
std::vector<std::string> log_words(const HeatFindings& found);
/// Head and rows of the ten-minute steps.
std::vector<std::vector<std::string>> cooking_table(const CookingPower& power);

// ---- Outputs ----
std::string heat_text(const HeatFindings& found, const std::string& name, Units units, Detail detail);
std::string heat_answer(const HeatFindings& found, Units units);
std::string heat_json(const HeatFindings& found, const std::string& name);
/// time, low, best, high; of a log its rows behind them.
std::string heat_csv(const HeatPlan& plan, Units units);
std::string cooking_csv(const CookingPower& power);
LineChart heat_chart(const HeatFindings& found, Units units);
WorkCard heat_card(const HeatFindings& found, const std::string& name, Units units);

/// heat.json, heat.csv, heat.png, heat.svg, heat-card.pdf, of a log cooking-power.csv; says which.
std::string add_heat_outputs(const HeatFindings& found, const std::string& name, Units units, PageSize paper, WholeFiles& files);

}  // namespace dishwright
