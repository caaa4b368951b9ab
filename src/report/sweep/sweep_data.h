// SPDX-License-Identifier: MIT
// A sweep for other programs and for spreadsheets.
#pragma once

#include <string>

#include "report/numbers/json_quantity.h"
#include "report/numbers/number_text.h"
#include "study/sweep.h"

namespace dishwright {

/// What varies: [{"key", "from": Q, "to": Q, "count"}].
Json vary_json(const std::vector<SweepAxis>& axes);

/// {"scene", "version", "seed", "paths", "source" (sound, radio), "target", "vary": [{"key", "from": Q, "to": Q, "count"}],
/// "points": [{"at": [Q…], "figures": {NAME: Q or null}, "method"}], "complete"}; SI units. A key whose own value is known has
/// "here"; a sweep of one key whose share caught crosses 90 % within its range has "edges_of_90": [{"at": Q, "ends"}]. Ends with
/// a newline.
std::string sweep_json(const Sweep& sweep, const std::string& name);

/// A line a point: the values in the units they were given in, every figure with its ± (not of sound and radio) in printed units,
/// the method.
std::string sweep_csv(const Sweep& sweep, Units units);

}  // namespace dishwright
