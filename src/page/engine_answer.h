// SPDX-License-Identifier: MIT
// What the engine gives back: JSON for what is read, plain arrays for what is drawn.
#pragma once

#include <string>
#include <vector>

namespace dishwright {

/// A picture's numbers, row by row from the lowest. Light: irradiance [W/m²]; sound and radio: level [dB], −1e30 where nothing
/// arrives.
struct EngineMap {
  std::string name;  ///< "kettle/base", "waves", "waves along the axis"
  int columns = 0, rows = 0;
  double x_from = 0, x_to = 0, y_from = 0, y_to = 0;  ///< [m]
  bool round = false;                                 ///< only the inscribed circle belongs to it
  std::vector<float> values;                          ///< rows × columns
};

struct EngineAnswer {
  std::string json;  ///< an object; its "maps" lists the maps in their order, without their values
  std::vector<EngineMap> maps;
};

}  // namespace dishwright
