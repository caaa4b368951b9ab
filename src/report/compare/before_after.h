// SPDX-License-Identifier: MIT
// The sheet that sets a changed project beside the file as it is.
#pragma once

#include <string>
#include <vector>

#include "picture/work_card.h"
#include "report/trace/outputs.h"
#include "study/compare.h"

namespace dishwright {

/// A value that was set, as people write it.
struct SetChange {
  std::string key;   ///< its last part: "aim_error"
  std::string from;  ///< in the file, or its standard value; empty where it has none
  std::string to;
};
/// "aim_error 0.5 deg -> 2 deg; slope_error 4 mrad -> 8 mrad".
std::string change_words(const std::vector<SetChange>& changes);
/// What the change does to the share that the first target catches, or that the runs cannot tell.
std::string before_after_answer(const Comparison& pair, Units units);

/// Two maps of the first target on one scale, share, peak and 90 % width of both, and why the changed one is as it is. `pair`:
/// the file as it is, and `after`, in that order; both first targets are of one shape.
WorkCard before_after_card(const Comparison& pair, const std::vector<SetChange>& changes, const Result& after);

}  // namespace dishwright
