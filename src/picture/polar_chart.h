// SPDX-License-Identifier: MIT
// Levels by direction on a work-card: a half circle, straight ahead on top, a ring every 10 dB.
#pragma once

#include <string>

#include "picture/chart.h"

namespace dishwright {

/// The lines of a chart whose x is an angle from the axis [deg], −90 … 90 from left to right, and y a level [dB]: y_from in the middle, y_to on
/// the outermost ring; what is fainter stays in the middle. Marks are left out. 1200 × 900 pixels.
Pixels draw_polar_chart(const LineChart& chart);
/// The same as an SVG file.
std::string polar_chart_svg(const LineChart& chart);

}  // namespace dishwright
