// SPDX-License-Identifier: MIT
// What the pictures of a comparison show: maps side by side, and how much light falls within which width.
#pragma once

#include <optional>
#include <string>

#include "picture/work_card.h"
#include "report/numbers/number_text.h"
#include "study/compare.h"

namespace dishwright {

/// Peaks farther apart than this many times leave panels blank on one scale.
inline constexpr double blank_on_one_scale = 10;

/// The first target's face that gets the most light, of every contestant, each map smoothed once.
struct CompareMaps {
  WorkCard common;   ///< one window (it holds each one's own) and one colour scale up to the brightest of all
  WorkCard each;     ///< each its own window and scale
  double apart = 1;  ///< the brightest map's darkest ink over the palest one's; maps without light do not count
  bool each_first() const { return apart > blank_on_one_scale; }
};
CompareMaps compare_maps(const Comparison& all, const std::string& name, Units units);

/// Share of the light leaving the mirrors within a circle (or band) about the middle of the spot, against its width, with ± bands
/// a mark at the target's width, and in words the width that 90 % need. Empty where a first target is no disk or rectangle, or
/// where disks and rectangles meet.
std::optional<WorkCard> share_card(const Comparison& all, const std::string& name, Units units);

}  // namespace dishwright
