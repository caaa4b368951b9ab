// SPDX-License-Identifier: MIT
// Sizes of a mirror in words, and doubts about them.
#pragma once

#include <string>

#include "report/numbers/number_text.h"
#include "study/side_view.h"

namespace dishwright {

/// "48 in wide, 6 in deep; focal length 24 in, half the width (f/D 0.5); rim angle 53 deg": sizes of the first mirror.
std::string size_words(const SideView& view, Units units);
/// Doubts about sizes that are seldom meant: a mirror wider than 20 ft, a focus below the rim. Empty where there are none.
std::string size_doubts(const SideView& view, Units units);

}  // namespace dishwright
