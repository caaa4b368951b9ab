// SPDX-License-Identifier: MIT
// Tiles as they lie on a plan of the dish, for forms and maps.
#pragma once

#include <vector>

#include "picture/pages.h"
#include "survey/tiled_design.h"

namespace dishwright {

/// The outline of a tile, seen along the axis [m].
std::vector<Eigen::Vector2d> tile_on_plan(const TiledDesign& design, std::size_t tile);
/// Half of the box that holds all tiles [m].
double tiles_reach(const TiledDesign& design);

}  // namespace dishwright
