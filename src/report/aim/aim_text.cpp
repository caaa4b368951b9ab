// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "report/aim/aim_report.h"
#include "report/numbers/caution.h"
#include "report/numbers/provenance.h"
#include "report/numbers/sky_words.h"
#include "report/numbers/summary_parts.h"
#include "report/numbers/text_layout.h"
#include "report/numbers/text_table.h"
#include "report/yard/burn_report.h"
#include "result/scene_digest.h"

namespace dishwright {

namespace {

std::string under(const std::string& heading, const std::vector<std::string>& lines) {
  std::string out = summary_heading(heading);
  for (const std::string& line : lines) out += wrapped(line, "  ", "    ");
  return out;
}

}  // namespace

std::string aim_text(const AimPlan& plan, const std::string& name, Units units, Detail detail) {
  const Outdoors& outdoors = *plan.scene.outdoors;
  std::string out = title_block(plan.scene, name, units);
  out += summary_heading(
      fmt::format("How to point it on {} ({}), in degrees", date_text(outdoors.time), offset_text(outdoors.time)));
  out += text_table(pointing_table(plan));
  out += wrapped(compass_words(outdoors), "  ", "  ");
  out += under("The day", day_words(plan));
  out += summary_heading("The year here");
  out += text_table(month_table(plan));
  if (plan.re_aim) {
    out += summary_heading(fmt::format("What is left of the light on the {} when the aim is off", plan.target));
    std::vector<std::vector<std::string>> rows = {{"deg off"}, {"% left"}};
    for (const ShareLeft& one : plan.re_aim->by_angle) {
      rows[0].push_back(fmt::format("{:.1f}", one.angle * 180 / 3.14159265358979));
      rows[1].push_back(fmt::format("{:.0f}", 100 * one.left));
    }
    out += text_table(rows);
  }
  if (plan.parked) {
    out += under(fmt::format("Where the spot burns, {}", parked_words(*plan.parked)), burn_words(*plan.parked, units));
    out += text_table(burn_table(*plan.parked, units));
    for (const std::string& note : burn_notes(*plan.parked, units)) out += wrapped(note, "  ", "  ");
  }
  out += "\n" + caution(plan.figures, "All rules: safety.pdf of a trace.");
  return out + "\n" + wrapped(settings_line(plan.scene, plan.figures, scene_digest(plan.scene), detail), "", "  ");
}

std::string aim_answer(const AimPlan& plan, Units units) {
  std::string out = answer_heading("Answer", plan.scene.oddities);
  out += wrapped(pointing_words(plan), "  ", "    ");
  for (const std::string& line : lasting_words(plan)) out += wrapped(line, "  ", "    ");
  out += wrapped(plan.parked ? burn_words(*plan.parked, units).front()
                             : "Where the spot burns in a day when the dish is left standing: add --parked 'face up'.",
                 "  ", "    ");
  return out + mind_caution_line();
}

}  // namespace dishwright
