// SPDX-License-Identifier: MIT
// How to point a dish, as text, JSON, table and a card to print.
#pragma once

#include <string>
#include <vector>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "study/aim_plan.h"

namespace dishwright {

/// "Tip the dish back 27.8 deg from flat on its back …": how to stand now.
std::string pointing_words(const AimPlan& plan);
/// How long it lasts, aimed at the sun and ahead of it.
std::vector<std::string> lasting_words(const AimPlan& plan);
/// Sunrise, noon, sunset and the hours with sun enough on that day.
std::vector<std::string> day_words(const AimPlan& plan);
/// True against magnetic north.
std::string compass_words(const Outdoors& outdoors);
/// Head and rows: clock, sun, how to point.
std::vector<std::vector<std::string>> pointing_table(const AimPlan& plan);
/// Head and rows: the 21st of each month.
std::vector<std::vector<std::string>> month_table(const AimPlan& plan);
/// Azimuth by a compass needle [rad].
double compass_azimuth(double azimuth, const Outdoors& outdoors);

std::string aim_text(const AimPlan& plan, const std::string& name, Units units, Detail detail);
std::string aim_answer(const AimPlan& plan, Units units);
std::string aim_json(const AimPlan& plan, const std::string& name);
/// time, clock, sun and mirror in degrees.
std::string aim_csv(const AimPlan& plan);

/// A post stands square on a plate that is square to the mirror's axis: the tip of its shadow is off by height × tan(error).
struct AimSight {
  double post = 0.1016;  ///< height above the plate [m]
};
/// The card to print at 1:1, with the sight's rings and two check bars.
WorkCard aim_card(const AimPlan& plan, const std::string& name, Units units, const AimSight& sight);

/// aim.json, aim.csv, aim-card.pdf; says which.
std::string add_aim_outputs(const AimPlan& plan, const std::string& name, Units units, const AimSight& sight, PageSize paper,
                            WholeFiles& files);

}  // namespace dishwright
