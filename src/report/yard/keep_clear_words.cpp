// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>

#include "report/numbers/caution.h"
#include "report/yard/keep_clear_report.h"
#include "report/yard/yard_words.h"
#include "result/heat_levels.h"

namespace dishwright {

namespace {

/// "from 2 in to 3 ft 10 in", rounded to the safe side.
std::string stretch(const KeepClearLevel& level, Units units) {
  if (level.open) return fmt::format("from {} on", yard_text(level.from, units, false));
  return fmt::format("from {} to {}", yard_text(level.from, units, false), yard_text(level.to, units, true));
}

std::string level_words(double level) {
  if (level == pain_level) return "can hurt (1.58 kW/m²)";
  if (level == burn_level) return "burns skin (4.73 kW/m²)";
  if (level == ignition_level) return "wood can catch fire (20 kW/m²)";
  return "more than one sun";
}

}  // namespace

std::string keep_clear_words(const TraceFigures& figures, Units units) {
  if (!figures.keep_clear) return "";
  const std::vector<KeepClearLevel>& levels = figures.keep_clear->levels;
  const auto last = std::find_if(levels.rbegin(), levels.rend(), [](const KeepClearLevel& level) { return level.passed(); });
  if (last == levels.rend())
    return "No more than one sun comes off the mirror anywhere, whatever stands in the light. It dazzles all the same.";
  std::string out = fmt::format("More than one sun off the mirror {} along the beam", stretch(levels.front(), units));
  const KeepClearLevel &burn = levels[2], &fire = levels[3];
  if (!levels.front().passed()) out = fmt::format("Light off the mirror can hurt {} along the beam", stretch(levels[1], units));
  if (burn.passed()) out += (fire.passed() ? ", skin burns " : "; skin burns ") + stretch(burn, units);
  if (!burn.passed() && levels.front().passed() && levels[1].passed())
    out += fmt::format("; it can hurt {}", stretch(levels[1], units));
  if (fire.passed()) out += fmt::format(", wood can catch fire {}", stretch(fire, units));
  return out + " (from the vertex).";
}

std::vector<std::vector<std::string>> keep_clear_table(const KeepClear& field, Units units) {
  std::vector<std::vector<std::string>> rows = {{"light off the mirror", "from", "to", "to the sides (top view)", "(side view)"}};
  for (const KeepClearLevel& level : field.levels) {
    if (!level.passed()) {
      rows.push_back({level_words(level.level), "nowhere", "-", "-", "-"});
      continue;
    }
    rows.push_back({level_words(level.level), yard_text(level.from, units, false),
                    level.open ? "beyond " + yard_text(level.to, units, false) : yard_text(level.to, units, true),
                    yard_text(level.half_width_x, units, true), yard_text(level.half_width_y, units, true)});
  }
  return rows;
}

}  // namespace dishwright
