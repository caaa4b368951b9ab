// SPDX-License-Identifier: MIT
// Day and clock of a project in the open, which the page lets a student drag.
#pragma once

#include "report/numbers/json_quantity.h"
#include "scene/scene.h"

namespace dishwright {

/// {"year", "day" of the year from 1, "days" of that year, "hours" since midnight, "offset" of the clock ahead of UTC [min],
/// "from" and "to": the hours between which the sun is up that day, "stands": how the mount stands: "follows" the sun, "left" where
/// it was aimed at another time, or "parked"}; null without a time.
Json clock_json(const Scene& scene);

}  // namespace dishwright
