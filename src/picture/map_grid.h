// SPDX-License-Identifier: MIT
// Several maps side by side.
#pragma once

#include <vector>

#include "picture/map_panel.h"

namespace dishwright {

struct MapGrid {
  std::vector<MapPanel> panels;  ///< 1 to 9, row by row
  int columns = 0;               ///< of the panels; 0: as leaves the largest maps
  std::vector<double> tops;      ///< value at the dark end of each panel's colour scale [unit]; one for all: a common scale
  double beam = 0;               ///< one sun [unit], for the common scale; 0 = not told in suns
  std::string unit = "kW/m²";    ///< of the values
};

/// With a common scale one bar stands at the right; else a strip of ink under each map says what its darkest is.
void draw_map_grid(Pages& pages, const Box& box, const MapGrid& grid);

}  // namespace dishwright
