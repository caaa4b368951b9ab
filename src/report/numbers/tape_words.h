// SPDX-License-Identifier: MIT
// Lengths and slopes as a tape, a steel rule and a straightedge show them, rounded to the safe side.
#pragma once

#include <string>

#include "report/numbers/number_text.h"

namespace dishwright {

/// An allowance [m, >= 0], rounded down to a mark: whole inches from 100 in on, sixteenths from 1 in on, thirty-seconds below 1
/// in, sixty-fourths below 1/8 in; whole millimetres, halves below 3 mm. "2 1/4 in", "17/32 in"; "less than 1/64 in" below the
/// first mark; "0 in" of nothing.
std::string tape_down(double metres, Units units);
/// A width that is needed [m, >= 0], rounded up to a mark of the same tape: "1 3/16 in"; never 0 but of nothing.
std::string tape_up(double metres, Units units);

/// A straightedge [m] to tell a slope with: 6 in, or twice, four times … that until the rise is 1/16 in or more (150 mm and 1
/// mm), as long as it is no longer than `longest`.
double straightedge(double slope, double longest, Units units);
/// The rise [m, >= 0] over a straightedge, rounded down or up to sixty-fourths or tenths of a millimetre: "9/64 in"; "less than
/// 1/64 in" where down leaves nothing; "0 in" of nothing.
std::string rise_down(double metres, Units units);
std::string rise_up(double metres, Units units);
/// "6 in", "150 mm".
std::string run_text(double metres, Units units);

}  // namespace dishwright
