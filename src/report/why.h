// SPDX-License-Identifier: MIT
// Plain reasons for what came out.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "report/number_text.h"
#include "scene/scene.h"
#include "tally/figures.h"

namespace dishwright {

/// One to three sentences on why a target gets what it gets: width of the spot or distance from the focus, aim, the largest loss.
/// Lengths in them are rules of thumb, two digits: sun's image 2 f tan(half angle); blur 2 × slope error × f; shift f tan(aim error);
/// lamp: its width / f, times the way from vertex to target.
std::vector<std::string> why_lines(const Scene& scene, const TraceFigures& figures, std::size_t target, Units units);

}  // namespace dishwright
