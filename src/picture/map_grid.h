// SPDX-License-Identifier: MIT
// Several maps side by side on one work-card.
#pragma once

#include <vector>

#include "picture/map_page.h"
#include "picture/sheet.h"

namespace dishwright {

struct MapGrid {
  SheetWords words;
  std::vector<MapPanel> panels;  ///< 1 to 9, row by row
  int columns = 0;               ///< of the panels; 0: as leaves the largest maps
  std::vector<double> tops;      ///< value at the dark end of each panel's colour scale [unit]; one for all: a common scale
  double beam = 0;               ///< one sun [unit], for the common scale; 0 = not told in suns
  std::string unit = "kW/m²";    ///< of the values
};

/// 1200 × 900 pixels. With a common scale one colour bar stands at the right; else a strip of ink under each map says what its darkest is.
Pixels draw_map_grid(const MapGrid& grid);

}  // namespace dishwright
