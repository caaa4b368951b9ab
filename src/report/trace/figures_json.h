// SPDX-License-Identifier: MIT
// The figures of a trace as one JSON object: what --json prints and figures.json holds.
#pragma once

#include <string>

#include "report/numbers/json_quantity.h"

#include "result/figures.h"
#include "scene/scene.h"

namespace dishwright {

/// Pretty-printed JSON with a final newline. SI units, radians, full double precision. A number with unit or uncertainty is
/// {"value", "std_error", "unit"}; std_error is left out where the value is exact. Figures that have no value are null.
/// "scene" is the scene's title, or `scene_name` where it has none. Throws std::logic_error for a number that is not finite.
Json figures_json(const Scene& scene, const std::string& scene_name, const std::string& digest, const TraceFigures& figures);

}  // namespace dishwright
