// SPDX-License-Identifier: MIT
// What a sweep says and leaves behind.
#pragma once

#include <string>
#include <vector>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "study/sweep.h"

namespace dishwright {

/// For the screen: what was varied, a table (a line a point; of two keys a grid a figure), how sure it is, cautions.
std::string sweep_text(const Sweep& sweep, const std::vector<std::string>& figures, const std::string& name, Units units,
                       Detail detail = Detail::answer);
/// A sentence a figure; whether the sweep was broken off: printed last.
std::string sweep_answer(const Sweep& sweep, const std::vector<std::string>& figures, Units units);

/// One key: a line with its band of ± one standard error; places without the figure are left out. Two keys: a cell a point; the
/// second key runs to the right.
WorkCard sweep_card(const Sweep& sweep, const std::string& figure, const std::string& name, Units units);

/// Adds sweep.json, sweep.csv and for each figure sweep-FIGURE.png and .svg. Returns the words that say so.
std::string add_sweep_outputs(const Sweep& sweep, const std::vector<std::string>& figures, const std::string& name, Units units,
                              WholeFiles& files);

}  // namespace dishwright
