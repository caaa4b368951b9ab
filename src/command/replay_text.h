// SPDX-License-Identifier: MIT
// One path told in words and numbers, so that a class can follow it by hand.
#pragma once

#include <string>

#include "report/numbers/number_text.h"
#include "scene/scene.h"
#include "trace/path_history.h"

namespace dishwright {

/// Every step with its place, its angles and the power left; ends with where the path ended and why. Lines are at most 80 wide.
std::string replay_text(const Scene& scene, const PathHistory& story, Units units);

}  // namespace dishwright
