// SPDX-License-Identifier: MIT
// Words for figures that are not there, or that leave a part of the light out.
#pragma once

#include <string>
#include <vector>

#include "result/figures.h"

namespace dishwright {

/// One sentence for each figure of a target that light reaches but that could not be told, and for light that its spot widths
/// leave out.
std::vector<std::string> figure_notes(const TargetFigures& target);

}  // namespace dishwright
