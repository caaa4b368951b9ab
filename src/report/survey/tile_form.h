// SPDX-License-Identifier: MIT
// The blank form for a dish of tiles.
#pragma once

#include <string>
#include <vector>

#include "picture/work_card.h"
#include "report/survey/survey_places.h"
#include "survey/tiled_design.h"

namespace dishwright {

/// Its sheets: how to measure and which tiles, and the table to write into. Of `dish` the title, the project file and the
/// program.
std::vector<WorkCard> tile_form_cards(const FormDish& dish, const TiledDesign& tiles, Units units);
/// The same as PDF bytes.
std::string tile_form(const FormDish& dish, const TiledDesign& tiles, Units units, PageSize paper);
/// `place,x [in],y [in],depth [in]`: a row for each corner of each tile to be read; the depths are left blank.
std::string tile_table(const TiledDesign& tiles, Units units);

}  // namespace dishwright
