// SPDX-License-Identifier: MIT
// Lengths as a tape or a steel rule shows them: reduced sixteenths of an inch, whole millimetres.
#pragma once

#include <string>

namespace dishwright {

/// The nearest mark on an inch tape: "3 3/8 in", "1/16 in", "0 in", "-2 1/2 in"; `parts` of an inch are marked (16, 32, 64).
std::string tape_inches(double metres, int parts = 16);
/// The nearest whole millimetre, or half below 3 mm: "86 mm", "1.5 mm".
std::string tape_millimetres(double metres);

}  // namespace dishwright
