// SPDX-License-Identifier: MIT
// How long a dish can be left standing, in words.
#pragma once

#include <string>

#include "study/aim_room.h"

namespace dishwright {

/// A time [s], rounded down: whole minutes from 10 on, half ones from 2 on, below that whole 10 s: "at least 14 minutes", "at
/// least 3 1/2 minutes", "at least 50 seconds"; below 10 s "less than 10 seconds".
std::string least_time_text(double seconds);
/// "Left standing, the kettle keeps 90 % of its share for at least 12 minutes, …". `kept`: the share that was asked for [1].
std::string aim_time_words(const AimRoom& room, double kept, const std::string& target);

}  // namespace dishwright
