// SPDX-License-Identifier: MIT
#include "heat/thin_sheet.h"

#include "heat/warm_up.h"

namespace dishwright {

namespace {

/// A square metre of it.
Absorber square_metre(const ThinSheet& sheet) {
  const double by = sheet.width / 4;  // area over perimeter of a square
  return {{{FaceKind::top, 1, by, sheet.width, false}, {FaceKind::bottom, 1, by, sheet.width, false}},
          sheet.emittance,
          sheet.areal_heat};
}

}  // namespace

ThinSheet dry_straw() { return {}; }

double sheet_temperature(const ThinSheet& sheet, const Surroundings& around, double irradiance) {
  return stagnation_temperature(square_metre(sheet), around, sheet.absorptance * irradiance);
}

std::optional<double> sheet_time(const ThinSheet& sheet, const Surroundings& around, double irradiance, double temperature) {
  WarmUpTask task;
  task.absorber = square_metre(sheet), task.around = around;
  task.absorbed = sheet.absorptance * irradiance;
  task.start = around.temperature, task.wanted = temperature;
  task.longest = 3600;
  return warm_up(task, false).seconds;
}

}  // namespace dishwright
