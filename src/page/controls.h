// SPDX-License-Identifier: MIT
// The values of a project that the page lets a student drag.
#pragma once

#include <string>

#include "report/numbers/json_quantity.h"
#include "scene/scene.h"
#include "scenefile/read_scene.h"

namespace dishwright {

/// [{"key", "label", "unit", "per_si", "low", "high", "step", "own"}], in the order in which they are shown: the key as --set
/// names it; low, high, step and the file's own value in `unit`, of which `per_si` make one SI unit; "" with a plain number. Keys
/// that the project cannot have, or whose own value lies outside, are left out.
Json controls_json(const ProjectFile& file, const ReadOptions& read, const Scene& scene, Units units);

}  // namespace dishwright
