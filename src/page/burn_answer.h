// SPDX-License-Identifier: MIT
// Where the spot of a parked dish runs, for the page's moving picture.
#pragma once

#include "base/progress.h"
#include "page/answers.h"

namespace dishwright {

/// {"burn": {"words": […], "height": of the vertex [m], "roof": above it or null, "wall": [m], "every" [s], "hulls": {"side",
/// "plan"}: each mirror's outline as [[right, up], …] [m], seen toward the north and from above, "steps": [{"hours", "up": of the
/// sun [rad], "behind", "irradiance" [W/m²], "at": [east, north, up] of the brightest place from the vertex [m] or null, "ground"
/// and "walls": the brightest there [W/m²]}]}}. question.park: "face up", "leaning" (as it was aimed last) or "in a vehicle".
/// Throws InputError without a time, and for sound, radio and lamps.
EngineAnswer burn_answer(const Project& project, const Question& question, Watch& watch);

}  // namespace dishwright
