// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright aim SCENE`: where the sun is, how to point the dish, how long until it must be pointed again.
void add_aim_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
