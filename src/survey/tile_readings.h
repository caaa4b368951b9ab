// SPDX-License-Identifier: MIT
// Which readings lie on which tile.
#pragma once

#include "survey/tile_survey.h"

namespace dishwright {

/// Sorts survey.points onto survey.design.tiles: fills survey.tiles with their readings and puts repeats of a place together
/// (means; their scatter goes into points.noise). Readings of a tile are of one place within 1/8 in, or an eighth of the tile
/// where that is less. Throws InputError, all that is wrong at once: readings on no tile; a place read twice and differently;
/// one corner twice and another not at all; tiles to be read that were not.
void put_on_tiles(TileSurvey& survey);

}  // namespace dishwright
