// SPDX-License-Identifier: MIT
// Reasons that take more than the figures: what costs most, how a curve gathers, why aim error blurs.
#pragma once

#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "scene/scene.h"
#include "study/light_story.h"

namespace dishwright {

/// What would bring most light to the target if it were right, with the share that it would bring; and the next. From 1 % of the
/// light on and beyond twice its error; empty where the target catches 99 % or more.
std::vector<std::string> cost_lines(const Causes& causes, const Target& target, const std::string& mirror);

/// How light of a sphere, of petals, of tiles comes together, with its number: closed forms of the shape. Empty for others.
std::vector<std::string> curve_lines(const Reflector& mirror, Units units);

/// Where the middle ray and the rays of the near and the far rim meet the target's plane under an aim error, in numbers of its
/// map, and what that makes of the spot. `letters`: of the side view beside it. Empty without an
/// aim error, and where the rays do not meet that plane.
std::string comet_line(const SideView& view, const Sun& sun, Units units, bool letters = true);

}  // namespace dishwright
