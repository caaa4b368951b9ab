// SPDX-License-Identifier: MIT
// Charts, maps and bars on a printed work-card, from the same data as their sheets of pixels. Boxes in millimetres.
#pragma once

#include <string>
#include <vector>

#include "picture/chart.h"
#include "picture/map_page.h"
#include "picture/page.h"

namespace dishwright {

/// The chart's lines and marks, its lines named below a heading. Of the chart's words only the axes are drawn. Up to 3 lines.
void draw_page_chart(Pages& pages, const Box& box, const std::string& heading, const LineChart& chart);

/// A map with its circles, at true aspect, and a bar of its scale from 0 to `top` [unit]. The map's own heading stands above it.
void draw_page_map(Pages& pages, const Box& box, const MapPanel& panel, double top, const std::string& unit);

/// Shares as bars beside their labels. Returns where it ends.
double draw_page_bars(Pages& pages, const Box& box, const std::string& heading, const std::vector<CardShare>& shares);

}  // namespace dishwright
