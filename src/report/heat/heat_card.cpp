// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/heat/heat_report.h"
#include "report/numbers/card_files.h"
#include "report/numbers/caution.h"
#include "report/numbers/provenance.h"
#include "report/numbers/scene_words.h"
#include "result/scene_digest.h"

namespace dishwright {

namespace {

double shown_temperature(double kelvin, Units units) {
  return units == Units::us ? 1.8 * (kelvin - 273.15) + 32 : kelvin - 273.15;
}

/// Until everything that matters has happened [s].
double charted_time(const HeatFindings& found) {
  constexpr double margin = 1.25;
  const HeatPlan& plan = found.plan;
  double until = plan.seconds.high.value_or(plan.seconds.best.value_or(plan.longest));
  until = std::max(until, plan.goal.within.value_or(0));
  if (found.log) until = std::max(until, found.log->log.rows.back().time - found.log->log.rows.front().time);
  return std::clamp(margin * until, 2 * plan.step, plan.step * static_cast<double>(plan.best.size() - 1));
}

ChartLine curve_line(const std::string& label, const std::vector<double>& curve, double step, double until, Units units) {
  ChartLine line;
  line.label = label;
  for (std::size_t k = 0; k < curve.size(); ++k) {
    const double time = static_cast<double>(k) * step;
    if (time > until + step) break;
    line.x.push_back(time / 60), line.y.push_back(shown_temperature(curve[k], units));
  }
  return line;
}

}  // namespace

LineChart heat_chart(const HeatFindings& found, Units units) {
  const HeatPlan& plan = found.plan;
  const double until = charted_time(found);
  LineChart chart;
  chart.x_label = "time [min]", chart.y_label = units == Units::us ? "temperature [°F]" : "temperature [°C]";
  chart.lines = {curve_line("1 in 10 above", plan.high, plan.step, until, units),
                 curve_line("project", plan.best, plan.step, until, units),
                 curve_line("1 in 10 below", plan.low, plan.step, until, units)};
  if (found.log) {
    ChartLine measured;
    measured.label = "measured";
    for (const LogRow& row : found.log->log.rows) {
      measured.x.push_back((row.time - found.log->log.rows.front().time) / 60);
      measured.y.push_back(shown_temperature(row.temperature, units));
    }
    chart.lines.push_back(std::move(measured));
  }
  double lowest = 1e9, highest = shown_temperature(plan.task.wanted, units);
  for (const ChartLine& line : chart.lines) {
    lowest = std::min(lowest, *std::min_element(line.y.begin(), line.y.end()));
    highest = std::max(highest, *std::max_element(line.y.begin(), line.y.end()));
  }
  chart.x_to = until / 60;
  chart.y_from = 10 * std::floor(lowest / 10), chart.y_to = highest + 0.12 * (highest - lowest);
  chart.levels = {{shown_temperature(plan.task.wanted, units), "wanted: " + temperature_text(plan.task.wanted, units)}};
  if (plan.goal.within) chart.marks = {{*plan.goal.within / 60, "goal"}};
  return chart;
}

WorkCard heat_card(const HeatFindings& found, const std::string& name, Units units) {
  const HeatPlan& plan = found.plan;
  WorkCard card;
  card.name = "Heat card";
  card.title = {{"Project", scene_title(plan.scene, name)},
                {"Sheet", "heat"},
                {"Load", amount_words(*plan.scene.load, units)},
                {"Beam", fmt::format("{:.0f} W/m²", plan.scene.sun.beam)}};
  card.question = fmt::format("How long until it {}?", end_words(plan, units));
  card.answer = heat_sentence(plan, units);
  card.pictures = {{heat_chart(found, units),
                    "Temperature of the load: the project as it is, and 8 of 10 cases between the outer lines", 1, 80}};
  card.numbers = {{"Where the power goes", power_words(plan, units)},
                  {"The goal", CardList{goal_words(plan, units)}},
                  {"What the band is drawn over", CardTable{range_table(plan, units)}}};
  if (found.log) {
    card.numbers.push_back({"The log", CardList{log_words(found)}});
    card.numbers.push_back({"Cooking power in steps of 10 minutes", CardTable{cooking_table(found.log->power)}, true, true});
  }
  card.notes = {
      fmt::format("{} samples, evenly over these ranges. One temperature for load and vessel; no promise.", plan.samples)};
  card.cautions = heat_cautions(plan, units);
  card.cautions.push_back(caution_line(plan.figures));
  card.settings = {settings_line(plan.scene, plan.figures, scene_digest(plan.scene))};
  return card;
}

std::string add_heat_outputs(const HeatFindings& found, const std::string& name, Units units, PageSize paper, WholeFiles& files) {
  files.add("heat.json", heat_json(found, name));
  files.add("heat.csv", heat_csv(found.plan, units));
  if (found.log) files.add("cooking-power.csv", cooking_csv(found.log->power));
  const WorkCard card = heat_card(found, name, units);
  add_printed_card(files, "heat-card", card, paper);
  WorkCard chart = card;
  chart.numbers.resize(2), chart.cautions = {card.cautions.front(), card.cautions.back()};
  add_card(files, "heat", chart);
  return "\nWritten into " + files.folder().string() +
         ":\n  heat-card.pdf     the card to print\n  heat.png          the same for a screen\n" +
         (found.log ? "  cooking-power.csv steps of 10 minutes\n" : "") +
         "  heat.csv          the curves\n  heat.json         all figures\n";
}

}  // namespace dishwright
