// SPDX-License-Identifier: MIT
// What the pictures of a comparison show: maps side by side, and how much light falls within which width.
#pragma once

#include <optional>
#include <string>

#include "picture/chart.h"
#include "picture/map_grid.h"
#include "report/number_text.h"
#include "study/compare.h"

namespace dishwright {

/// The first target's face that gets the most light, of every contestant. Common: one window (it holds each one's own) and one colour scale
/// up to the brightest of all. Else: each its own window and scale.
MapGrid compare_maps(const Comparison& all, const std::string& name, Units units, bool common);

/// Share of the light leaving the mirrors within a circle (or band) about the middle of the spot, against its width, with ± bands and a mark
/// at the target's width. Empty where a first target is no disk or rectangle, or where disks and rectangles meet.
std::optional<LineChart> share_chart(const Comparison& all, const std::string& name, Units units);

}  // namespace dishwright
