// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "report/heat/heat_report.h"
#include "report/numbers/caution.h"
#include "report/numbers/provenance.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/numbers/text_table.h"
#include "result/scene_digest.h"

namespace dishwright {

namespace {

std::string load_lines(const HeatPlan& plan, Units units) {
  const Load& load = *plan.scene.load;
  const bool pot = std::holds_alternative<PotTarget>(plan.scene.targets[load.target].shape);
  std::string what = amount_words(load, units) + fmt::format(", in the {}", plan.scene.targets[load.target].name);
  if (!load.vessel.empty() && load.vessel_mass > 0)
    what += fmt::format("; vessel {} of {}", mass_text(load.vessel_mass, units), load.vessel);
  if (pot && boils(load)) what += load.lid ? ", lid on" : ", no lid";
  std::string out = summary_heading("The load");
  out += summary_line("Load", what);
  out += summary_line("Heated",
                      fmt::format("from {} to {}", temperature_text(load.start, units), temperature_text(load.wanted, units)));
  std::string air = fmt::format("{}, wind {}, {:.1f} kPa", temperature_text(load.air_temperature, units),
                                wind_text(load.wind, units), load.pressure / 1000);
  if (plan.task.boiling) air += fmt::format(": water boils at {}", temperature_text(*plan.task.boiling, units));
  out += summary_line("Air", air);
  return out + summary_line("Skin", fmt::format("{}takes in {:.0f} % of the light, radiates {:.0f} % of what a black body does",
                                                load.surface.empty() ? "" : load.surface + ", ", 100 * load.absorptance,
                                                100 * load.emittance));
}

std::string method_lines(const HeatPlan& plan) {
  return "\n" +
         wrapped(fmt::format("One temperature for load and vessel. The band: {} samples, spread evenly over these ranges; a "
                             "tenth lie below it, a "
                             "tenth above. Followed for {}. Light on the way in to a pot's lid, the colder sky, stirring and "
                             "the heating of what holds the vessel are left out: docs/heat.md.",
                             plan.samples, time_text(plan.longest)));
}

}  // namespace

std::string heat_text(const HeatFindings& found, const std::string& name, Units units, Detail detail) {
  const HeatPlan& plan = found.plan;
  std::string out = title_block(plan.scene, name, units) + load_lines(plan, units);
  out += summary_heading("Where the power goes");
  for (const CardEntry& entry : power_words(plan, units)) out += summary_line(entry.label, entry.value);
  out += summary_heading("What the band is drawn over");
  out += text_table(range_table(plan, units));
  if (detail == Detail::method) out += method_lines(plan);
  if (found.log) {
    out += summary_heading("The log: cooking power in steps of 10 minutes");
    out += text_table(cooking_table(found.log->power));
    for (const std::string& line : log_words(found)) out += wrapped(line, "  ", "    ");
  }
  out += summary_heading("What can hurt");
  for (const std::string& line : heat_cautions(plan, units)) out += wrapped(line, "  ", "    ");
  out += wrapped(thin_words(plan, units), "  ", "    ");
  out += "\n" + caution(plan.figures, "All rules: safety.pdf of a trace.");
  return out + "\n" + wrapped(settings_line(plan.scene, plan.figures, scene_digest(plan.scene), detail), "", "  ");
}

std::string heat_answer(const HeatFindings& found, Units units) {
  std::string out = answer_heading("Answer", found.plan.scene.oddities);
  out += wrapped(heat_sentence(found.plan, units), "  ", "    ");
  for (const std::string& line : goal_words(found.plan, units)) out += wrapped(line, "  ", "    ");
  if (found.log)
    out += wrapped(fmt::format("Log: {} of {} rows lie within the band.", found.log->inside, found.log->compared), "  ", "    ");
  return out + mind_caution_line();
}

}  // namespace dishwright
