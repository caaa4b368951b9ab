// SPDX-License-Identifier: MIT
// Mirror, targets and rays as lines in space: what the page turns about.
#pragma once

#include "report/numbers/json_quantity.h"
#include "result/figures.h"
#include "scene/scene.h"
#include "study/side_view.h"

namespace dishwright {

/// Of a scene with a sun: {"mirrors": [line…], "targets": [line…], "spot": [[x, y, z, share of the brightest]…], "rays": {NAME:
/// {"line", "misses"}}}; a line is [[x, y, z]…] in the frame [m]. The rays are M, N and F, as the side view names them; of a
/// sun on the axis, where none has a name, those of the side view by their numbers.
Json solid_json(const Scene& scene, const SideView& view, const TraceFigures& figures);

}  // namespace dishwright
