// SPDX-License-Identifier: MIT
// Where along and across the beam the light off the mirrors is stronger than published levels.
#pragma once

#include <vector>

namespace dishwright {

/// What is brighter than a level on one plane across the beam: a box, from the axis of the frame's z through the first mirror's
/// vertex.
struct KeepClearSlice {
  double along = 0;              ///< of the plane, from that vertex [m]
  double low_x = 0, high_x = 0;  ///< [m]
  double low_y = 0, high_y = 0;  ///< [m]
};

struct KeepClearLevel {
  double level = 0;         ///< [W/m²]
  double from = 0, to = 0;  ///< nearest and farthest along the beam from the first mirror's vertex [m]; both 0 where nothing is
  double half_width_x = 0, half_width_y = 0;  ///< the farthest from the axis, in the top and in the side view [m]
  bool open = false;                          ///< it goes on beyond the farthest plane that was looked at
  std::vector<KeepClearSlice> slices;         ///< by rising distance; empty where nothing passes the level
  bool passed() const { return !slices.empty(); }
};

/// Targets taken away: a pot that is missed protects nobody. The light is that off the mirrors alone, on a face turned so that it
/// gets the most; sunlight that comes straight adds one sun. The levels are one sun (the beam), pain, burn and ignition
/// (result/heat_levels.h).
struct KeepClear {
  std::vector<KeepClearLevel> levels;  ///< four, by rising level: one sun stands first even where another is lower
  double beam = 0;                     ///< one sun [W/m²]
};

}  // namespace dishwright
