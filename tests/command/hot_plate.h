// SPDX-License-Identifier: MIT
// A small project file: a 48 in dish, its focus on a round plate.
#pragma once

#include <string>

namespace dishwright::testing {

/// Its text; the plate is `width` wide, and `trace` stands in its [trace] table.
inline std::string hot_plate(const std::string& width, const std::string& trace = "paths = 40000\nseed = 3\n") {
  return R"(title = "Hot plate"
[sun]
beam = "850 W/m2"
[reflector.dish]
shape = "paraboloid"
focal_length = "24 in"
width = "48 in"
reflectance = 0.86
slope_error = "4 mrad"
[target.plate]
shape = "disk"
width = ")" +
         width + R"("
at = "focus of dish"
[trace]
)" + trace;
}

}  // namespace dishwright::testing
