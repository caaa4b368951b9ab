// SPDX-License-Identifier: MIT
#pragma once

#include "base/progress.h"

namespace CLI {
class App;
}

namespace dishwright {

/// `dishwright tolerance SCENE`: how good surface, aim and place of the target must be.
void add_tolerance_command(CLI::App& app, int& exit_code, Watch& watch);

}  // namespace dishwright
