// SPDX-License-Identifier: MIT
// What the pictures of sound and radio show.
#pragma once

#include <string>

#include "picture/chart.h"
#include "picture/map_page.h"
#include "report/wave_outputs.h"

namespace dishwright {

constexpr double pattern_depth = 45;  ///< of a chart of directions, below its highest level [dB]

/// The title block of a sheet: project, target, frequencies, which sheet.
std::vector<CardEntry> wave_title_cells(const WaveResult& result, const std::string& sheet);
/// A map without its heading [dB], with the circle of half the power where it is one across the axis; `up` names the way up.
MapPanel wave_map_panel(const WaveMap& map, Units units, const std::string& up = "y");
/// How loud it is around the first target [dB], with the circle of half the power.
MapPage wave_map_page(const WaveResult& result);
/// Gain against frequency on an axis of ratios; the pitch where the dish stops helping is marked. Sound only.
LineChart gain_chart(const WaveResult& result);
/// Level against direction.
LineChart pattern_chart(const WaveResult& result);

}  // namespace dishwright
