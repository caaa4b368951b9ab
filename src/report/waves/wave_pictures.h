// SPDX-License-Identifier: MIT
// What the pictures of sound and radio show.
#pragma once

#include <string>

#include "picture/work_card.h"
#include "report/waves/wave_outputs.h"

namespace dishwright {

constexpr double pattern_depth = 45;  ///< of a chart of directions, below its highest level [dB]

/// The title block of a sheet: project, target, frequencies, which sheet.
std::vector<CardEntry> wave_title_cells(const WaveResult& result, const std::string& sheet);
/// A map without its heading [dB], with the circle of half the power where it is one across the axis; `up` names the way up.
MapPanel wave_map_panel(const WaveMap& map, Units units, const std::string& up = "y");
/// How loud it is around the first target [dB], with the circle of half the power: across the axis and along it.
MapPicture wave_map_picture(const WaveResult& result);
/// Gain against frequency on an axis of ratios; the pitch from which up the dish helps is marked. Sound only.
LineChart gain_chart(const WaveResult& result);
/// Level against direction, in the plane.
LineChart pattern_chart(const WaveResult& result);

/// The same on cards. The pattern of sound is drawn on a half circle; a radio beam would be too narrow to see there.
WorkCard wave_map_card(const WaveResult& result);
WorkCard gain_card(const WaveResult& result);
WorkCard pattern_card(const WaveResult& result);

}  // namespace dishwright
