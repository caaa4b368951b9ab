// SPDX-License-Identifier: MIT
// What `tolerance` says and leaves behind.
#pragma once

#include <string>

#include "base/files.h"
#include "picture/work_card.h"
#include "report/numbers/detail.h"
#include "report/numbers/number_text.h"
#include "report/tolerance/tolerance_data.h"
#include "study/tolerance.h"

namespace dishwright {

/// For the screen: the limits in the words of the shop, three of them at once, how sure they are, cautions.
std::string tolerance_text(const Tolerance& all, const std::string& name, Units units, Detail detail = Detail::answer);
/// The verdict: printed last.
std::string tolerance_answer(const Tolerance& all, Units units);

/// A line a limit.
std::string tolerance_csv(const Tolerance& all, Units units);

/// The share caught, or the gain lost, against each deviation in parts of its limit; what is wanted or allowed as a level line.
WorkCard tolerance_card(const Tolerance& all, const std::string& name, Units units);

/// The table of the shop in large type, with that chart; light only.
WorkCard tolerance_sheet(const Tolerance& all, const std::string& name, Units units);

/// Adds tolerance.txt, tolerance.json, tolerance.csv; of light the sheet (tolerance.pdf on that paper, tolerance.png) and the
/// chart
/// (tolerance-chart.png, .svg), of waves the chart (tolerance.png, .svg). Returns the words that say so.
std::string add_tolerance_outputs(const Tolerance& all, const std::string& name, Units units, PageSize paper, WholeFiles& files);

}  // namespace dishwright
