// SPDX-License-Identifier: MIT
// How the middles of the tiles lie together, by their heights.
#pragma once

#include "survey/tile_survey.h"

namespace dishwright {

/// Level, lean and bend of the frame through the middles of the tiles; those far off count no more (a tile glued too high). Eight
/// tiles tell the bend, five the lean, fewer the level alone. Its covariance stays empty.
FrameFit frame_through(const TileSurvey& survey);

/// How well heights and leans tell lean and bend (covariance and trend_covariance of the frame): tiles of one height are rounded
/// alike, so many of them are not so many witnesses. The tiles as designed are read and rounded two hundred times, with the
/// straightedge up to half a mark higher or lower, leaning by up to half a mark at the rim, and the frame up to a mark deeper or
/// shallower there. To that comes how the tiles' own heights scatter about the frame.
void find_frame_errors(TileSurvey& survey);

}  // namespace dishwright
