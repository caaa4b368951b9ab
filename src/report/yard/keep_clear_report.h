// SPDX-License-Identifier: MIT
// The keep-clear field in words, as a drawing and as a sheet to hang up.
#pragma once

#include <string>
#include <vector>

#include "report/trace/outputs.h"

namespace dishwright {

/// "More than one sun comes off the mirror from 2 in to 3 ft 10 in …": a sentence or two; empty where it was not looked for.
std::string keep_clear_words(const TraceFigures& figures, Units units);
/// Head and rows: level, from, to, half width in both views.
std::vector<std::vector<std::string>> keep_clear_table(const KeepClear& field, Units units);
/// Side or top view, to scale, the beam upward; bands that differ in grey, hatch and label.
CardPicture keep_clear_picture(const KeepClear& field, const Scene& scene, bool side, Units units);
/// One sheet: both views, the distances, what the levels mean, the list, wind and eyes.
WorkCard keep_clear_card(const Result& result);

}  // namespace dishwright
