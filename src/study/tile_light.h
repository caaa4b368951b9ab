// SPDX-License-Identifier: MIT
// What a surveyed dish of tiles does with the sun: share caught by each target, what the readings leave open, and which tiles to
// set anew.
#pragma once

#include "study/survey_light.h"
#include "survey/tile_survey.h"

namespace dishwright {

/// A tile that leans, and what setting it as designed would gain the first target.
struct WorstTile {
  std::size_t tile = 0;  ///< its number in the layout
  double gain = 0;       ///< of the mirror's light [1]
};

/// Where a tile sends the ray that comes along the dish's axis and meets its middle: in the plane through the first target square
/// to the axis, less where its design sends it [m].
struct TileAim {
  std::size_t tile = 0;
  Eigen::Vector2d off = Eigen::Vector2d::Zero();
};

struct TileLight {
  SurveyLight light;             ///< its repairs: "move target", "lift tiles" (the worst), "set all tiles"
  std::vector<WorstTile> worst;  ///< largest gain first, five at most; none that gains nothing
  double height_only_risk = 0;   ///< of the first target: what the tiles with a height alone could cost, if they lean [1]
  double supposed_lean = 0;      ///< as far as they are taken to lean, about one axis [rad]
  double rule_risk = 0;          ///< of the first target: what leans of the size of the rule's own error would cost all tiles [1]
  std::vector<char> rule_tells;  ///< for each target: a tile's lean is known well enough to say whether it is met
  std::vector<TileAim> aims;     ///< of the tiles with a plane, as they were read
};

/// Traces the tiles as they were surveyed: the plain ones of drawn_tiles with the scene's own number of paths, then twenty-four
/// draws with fewer paths and the same random numbers. The share lies half way between the plain tiles and the mean of the draws;
/// its error is their spread, that way, for which law the leans follow is a guess, both 1.4 times (our choice), and the trace's
/// own error. Tiles that were not read are in it: they lean as those that were read do.
///
/// Not in it, but in `at_risk`: tiles with a height alone, which may lean by a mark of the rule across the tile or twice as far
/// as those that were read, outward, inward or at random, whichever costs most. Where the error of a tile's lean throws its light
/// farther than half the target's width (`rule_tells`), all tiles with a further lean of that size.
TileLight tile_light(const Scene& scene, const TileSurvey& survey, int threads);

}  // namespace dishwright
