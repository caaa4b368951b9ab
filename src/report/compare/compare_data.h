// SPDX-License-Identifier: MIT
// A comparison for other programs: JSON, and a table for spreadsheets.
#pragma once

#include <string>

#include "report/numbers/number_text.h"
#include "study/compare.h"

namespace dishwright {

/// {"scenes": [a trace's object each, its "scene" the contestant's name], "differences": [{"a", "b", "figure", "difference"}],
/// "verdict", "first": [names]}; a and b are names of scenes, the difference is a − b of the first targets; "first" holds all
/// that tie at the top. SI units; ends with a newline. A scene that was bent has "rule"; one whose best place was asked for has
/// "best_place"; one with a flat target or a pot has "width_for_90" (null where no width catches that much).
std::string compare_json(const Comparison& all, const std::string& name);

/// One row a scene and target: figures with their standard errors, the unit in each column's head.
std::string compare_csv(const Comparison& all, Units units);

}  // namespace dishwright
