// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright heat SCENE`: how long the dish takes to heat its load, and whether that meets the goal.
void add_heat_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
