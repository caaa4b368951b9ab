// SPDX-License-Identifier: MIT
// Levels by direction: a half circle, straight ahead on top, with rings of level.
#pragma once

#include "picture/line_chart.h"

namespace dishwright {

/// Draws a chart of the form half_circle, as large as the box allows; its lines are named in the corner that the half circle
/// leaves free.
void draw_half_circle(Pages& pages, const Box& box, const LineChart& chart);

}  // namespace dishwright
